import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Frame } from '../../../analysis/clip/frame.ts'
import { copyFrame } from '../../../analysis/clip/frame.ts'
import { chooseFfmpegFor, type FfmpegChoice } from '../../../main/engines/ffmpeg-choice.ts'
import { ffmpegCandidates } from '../../../main/engines/engine-candidates.ts'
import { runProgram } from '../../../main/engines/run-program.ts'
import { probeClip } from '../../../main/media/probe-clip.ts'
import type { ProbedClip } from '../../../main/media/probed-clip.ts'
import { streamFrames } from '../../../main/media/stream-frames.ts'
import { matroskaHead, matroskaPicture } from '../../../main/overlay/matroska.ts'
import { writeOverlay } from '../../../main/overlay/write-overlay.ts'
import type { MeasuredRide } from '../../../main/measuring/measured-ride.ts'
import { samplePicture, sampleRide } from '../report/sample-ride.ts'
import { needs } from '../../report/needs.ts'

/** Uneven on purpose; ms, so that MP4 and Matroska both hold them exactly. */
const timesS = [0, 0.04, 0.08, 0.16, 0.165, 0.3, 0.31, 0.5]
const [widthPx, heightPx] = [320, 180]

let folder: string
let clipPath: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'overlay-'))
  clipPath = join(folder, 'uneven.mkv')
  await makeClip(clipPath)
})
afterAll(() => rm(folder, { recursive: true }))

/** A grey clip with uneven timestamps and a tone. */
async function makeClip(path: string): Promise<void> {
  const { ffmpegPath } = await chooseFfmpegFor(process.env)
  const luma = new Uint8Array(widthPx * heightPx).fill(90)
  const chroma = new Uint8Array((widthPx * heightPx) / 4).fill(128)
  const film = [matroskaHead(widthPx, heightPx), ...timesS.map((s) => matroskaPicture(s, [luma, chroma, chroma]))]
  const args = [
    ...['-y', '-loglevel', 'error', '-f', 'matroska', '-i', 'pipe:0', '-f', 'lavfi', '-i', 'sine=d=1:r=8000'],
    ...['-c:v', 'libx264', '-vsync', 'passthrough', '-enc_time_base', '1:1000', '-c:a', 'aac', path],
  ]
  const run = await runProgram(ffmpegPath, args, Buffer.concat(film), 30_000)
  if (run.kind !== 'ended' || run.exitCode !== 0) throw new Error(JSON.stringify(run))
}

async function framesOf(clip: ProbedClip, ffmpeg: FfmpegChoice): Promise<Frame[]> {
  const frames: Frame[] = []
  for await (const frame of streamFrames(clip, ffmpeg)) frames.push(copyFrame(frame))
  return frames
}

const measured: MeasuredRide = {
  ride: sampleRide,
  picture: {
    ...samplePicture,
    ptsS: Float64Array.from(timesS),
    frameIndex: Int32Array.from(timesS, (_, k) => k),
    // Not followed in the third frame.
    angleRad: Float64Array.from(timesS, (_, k) => (k === 2 ? NaN : -0.3166)),
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
    const timesOfFrames = [...overlay.video.fileTimesS].slice(0, timesS.length)
    expect(timesOfFrames.map((s) => Number(s.toFixed(4)))).toEqual(timesS)
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
