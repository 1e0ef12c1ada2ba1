import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Sound } from '../../../../analysis/sound/sound.ts'
import { type SoundRequest, readSound } from '../../../../main/film/media/read-sound.ts'
import type { MediaFfmpeg } from '../../../../main/film/media/probed-clip.ts'
import { forEachFfmpeg } from './each-ffmpeg.ts'
import { clipFolder, h264, makeClip } from './made-clips.ts'
import { probedOnce } from './probed-once.ts'

const folder = clipFolder()
afterAll(folder.remove)

/** Silence with a click of 2 ms at 1 s, and a click in the second channel only at 1.5 s. */
const click = (fromS: number) => `if(between(t,${fromS},${fromS + 0.002}),0.8,0)`
const clicks = [
  '-f',
  'lavfi',
  '-i',
  `aevalsrc=${click(1)}|${click(1)}+${click(1.5)}:s=48000:d=3`.replaceAll(',', '\\,'),
]
const later = ['-itsoffset', '0.25', ...clicks]
const earlier = ['-itsoffset', '-0.25', ...clicks]
const aac = ['-c:a', 'aac', '-b:a', '160k']

const kinds = [
  { name: 'aac.mp4', second: clicks, encode: [...h264, ...aac], clickS: 1, withinS: 1e-3 },
  { name: 'later.mp4', second: later, encode: [...h264, ...aac], clickS: 1.25, withinS: 1e-3 },
  { name: 'earlier.mov', second: earlier, encode: [...h264, '-c:a', 'pcm_s16le'], clickS: 0.75, withinS: 1e-4 },
  { name: 'opus.mkv', second: clicks, encode: [...h264, '-c:a', 'libopus'], clickS: 1, withinS: 1e-3 },
  { name: 'pcm.avi', second: clicks, encode: [...h264, '-bf', '0', '-c:a', 'pcm_s16le'], clickS: 1, withinS: 1e-4 },
]

beforeAll(async () => {
  for (const { name, second, encode } of kinds) await makeClip(folder.path(name), { frames: 90, second, encode })
  await makeClip(folder.path('silent.mp4'))
  // A stretch from 0.4 to 0.7 s is cut out of the sound, but not out of its clock.
  await makeClip(folder.path('gap.mkv'), {
    frames: 90,
    second: clicks,
    encode: [...h264, '-af', "aselect='not(between(t,0.4,0.7))'", '-c:a', 'pcm_s16le'],
  })
})

forEachFfmpeg((engine) => {
  describe.each(kinds)('the sound of $name', ({ name, clickS, withinS }) => {
    test('has its click where the clip has it, whether read whole or in part', async () => {
      const whole = await soundOf(name, engine())
      const part = await soundOf(name, engine(), { fromS: clickS - 0.1, toS: clickS + 0.15 })
      expect(Math.abs(firstLoudS(whole) - clickS)).toBeLessThan(withinS)
      expect(Math.abs(firstLoudS(part) - clickS)).toBeLessThan(withinS)
      expect(part.startS).toBeCloseTo(clickS - 0.1, 4)
      expect(part.samples.length / part.rateHz).toBeCloseTo(0.25, 3)
    })

    test('starts where the probe says', async () => {
      const clip = await probedOnce(folder.path(name), engine())
      const whole = await soundOf(name, engine())
      // Coders put some silence before the first sample; a container counts in whole packets.
      expect(Math.abs(whole.startS - (clip.sound?.startFileS ?? NaN))).toBeLessThan(0.05)
    })
  })

  test('both channels are heard in the mix', async () => {
    const { samples, rateHz, startS } = await soundOf('earlier.mov', engine())
    const peakNear = (atS: number) => {
      const from = Math.round((atS - startS) * rateHz)
      return Math.max(...samples.subarray(from, from + 0.002 * rateHz))
    }
    expect(peakNear(0.75)).toBeCloseTo(0.8, 2)
    expect(peakNear(1.25)).toBeCloseTo(0.4, 2)
  })

  test('a gap in the sound stays a gap: what follows keeps its time', async () => {
    const sound = await soundOf('gap.mkv', engine())
    expect(Math.abs(firstLoudS(sound) - 1)).toBeLessThan(1e-3)
  })

  test('slowed sound is placed in real time and keeps its own rate', async () => {
    const sound = await soundOf('later.mp4', engine(), { slowMotionFactor: 8 })
    expect(sound).toMatchObject({ rateHz: 48000, slowMotionFactor: 8 })
    expect(Math.abs(firstLoudS(sound) - 1.25 / 8)).toBeLessThan(1e-3 / 8)
  })

  test('a clip without sound, and a stretch without any, give none', async () => {
    const silent = await probedOnce(folder.path('silent.mp4'), engine())
    expect(silent.sound).toBeNull()
    expect(await readSound(silent, engine())).toBeNull()
    const clip = await probedOnce(folder.path('aac.mp4'), engine())
    expect(await readSound(clip, engine(), { fromS: 50, toS: 51 })).toBeNull()
  })
})

async function soundOf(name: string, engine: MediaFfmpeg, request: SoundRequest = {}): Promise<Sound> {
  const clip = await probedOnce(folder.path(name), engine)
  const sound = await readSound(clip, engine, request)
  if (sound === null) throw new Error(`${name} has no sound`)
  return sound
}

/** When the sound first exceeds a quarter of full scale, s of real time. */
function firstLoudS({ samples, rateHz, startS, slowMotionFactor }: Sound): number {
  return startS + samples.findIndex((value) => Math.abs(value) > 0.25) / (rateHz * slowMotionFactor)
}
