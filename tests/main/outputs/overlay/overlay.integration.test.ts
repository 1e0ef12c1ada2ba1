import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Frame } from '../../../../analysis/clip/frame.ts'
import { copyFrame } from '../../../../analysis/clip/frame.ts'
import { chooseFfmpegFor, type FfmpegChoice } from '../../../../main/film/engines/ffmpeg-choice.ts'
import { ffmpegCandidates } from '../../../../main/film/engines/engine-candidates.ts'
import { probeClip } from '../../../../main/film/media/probe-clip.ts'
import type { ProbedClip } from '../../../../main/film/media/probed-clip.ts'
import { streamFrames } from '../../../../main/film/media/stream-frames.ts'
import { writeOverlay } from '../../../../main/outputs/overlay/write-overlay.ts'
import type { MeasuredRide } from '../../../../main/measuring/measured-ride.ts'
import { sampleMeasured, samplePicture } from '../report/sample-ride.ts'
import { needs } from '../../../report/needs.ts'
import { makeUnevenClip, unevenSizePx, unevenTimesS } from './uneven-clip.ts'

const { widthPx } = unevenSizePx

let folder: string
let clipPath: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'overlay-'))
  clipPath = join(folder, 'uneven.mkv')
  await makeUnevenClip(clipPath)
})
afterAll(() => rm(folder, { recursive: true }))

async function framesOf(clip: ProbedClip, ffmpeg: FfmpegChoice): Promise<Frame[]> {
  const frames: Frame[] = []
  for await (const frame of streamFrames(clip, ffmpeg)) frames.push(copyFrame(frame))
  return frames
}

const measured: MeasuredRide = {
  ...sampleMeasured,
  picture: {
    ...samplePicture,
    ptsS: Float64Array.from(unevenTimesS),
    frameIndex: Int32Array.from(unevenTimesS, (_, k) => k),
    // Not followed in the third frame.
    angleRad: Float64Array.from(unevenTimesS, (_, k) => (k === 2 ? NaN : -0.3166)),
  },
}

describe.each(['PATH', '@ffmpeg-installer'] as const)('with the ffmpeg from %s', (source) => {
  test('the overlay keeps every frame at its own time, with the sound, and draws the plank', async (context) => {
    needs(context, source === 'PATH' ? 'ffmpeg on the PATH' : 'the ffmpeg that npm installs')
    const candidate = ffmpegCandidates(process.env).find((one) => one.source === source && one.kind === 'found')
    if (candidate?.kind !== 'found') throw new Error('no such ffmpeg')
    const ffmpeg = await chooseFfmpegFor({ ...process.env, TIPHOLD_FFMPEG: candidate.path })
    const path = join(folder, `${source.replace(/\W/g, '')}.mp4`)
    const told: number[] = []
    await writeOverlay(
      {
        clip: await probeClip(clipPath, ffmpeg),
        ffmpeg,
        signal: new AbortController().signal,
        onProgress: ({ framesDone }) => told.push(framesDone),
      },
      measured,
      path,
    )
    const overlay = await probeClip(path, ffmpeg)
    // The last picture may be there once more, to give it its length.
    const timesOfFrames = [...overlay.video.fileTimesS].slice(0, unevenTimesS.length)
    expect(timesOfFrames.map((s) => Number(s.toFixed(4)))).toEqual(unevenTimesS)
    expect(overlay.sound).not.toBeNull()
    expect(told).toEqual([1, 2, 3, 4, 5, 6, 7, 8])
    const frames = await framesOf(overlay, ffmpeg)
    const brightest = (frame: Frame) => frame.y.subarray(0, widthPx * 150).reduce((a, b) => Math.max(a, b))
    expect(brightest(frames[0]!)).toBeGreaterThan(180)
    expect(brightest(frames[2]!)).toBeLessThan(110)
  })
})

test('a cancelled overlay stops at once', async () => {
  const ffmpeg = await chooseFfmpegFor(process.env)
  const controller = new AbortController()
  const clip = await probeClip(clipPath, ffmpeg)
  const onProgress = () => controller.abort(new Error('cancelled by the test'))
  const source = { clip, ffmpeg, signal: controller.signal, onProgress }
  await expect(writeOverlay(source, measured, join(folder, 'cancelled.mp4'))).rejects.toThrow('cancelled by the test')
})
