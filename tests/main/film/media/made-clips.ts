import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Frame } from '../../../../analysis/clip/frame.ts'
import { ffmpegCandidates } from '../../../../main/film/engines/engine-candidates.ts'
import { runProgram } from '../../../../main/film/engines/run-program.ts'

/**
 * Test clips whose pictures say which frame they are: eight squares in the upper part are the number's bits, lowest
 * first, light = 1. The lower part grows lighter to the right: luma is 40 + x, so that a place can be read off.
 */
const madeSizePx = { widthPx: 160, heightPx: 96 } as const
const squarePx = 20
const bitsHeightPx = 32

export const uneven = 'settb=1/90000,setpts=N*3000+mod(N*N*97\\,1700)'

/** A folder for made clips; call `remove` afterwards. */
export function clipFolder(): { readonly path: (name: string) => string; readonly remove: () => void } {
  const folder = mkdtempSync(join(tmpdir(), 'tiphold-media-'))
  return { path: (name) => join(folder, name), remove: () => rmSync(folder, { recursive: true }) }
}

export interface Recipe {
  readonly rateHz?: number
  readonly frames?: number
  /** ffmpeg filters after the numbered picture. */
  readonly filters?: readonly string[]
  /** Everything after the inputs except the file name; by default H.264 with B frames and a key frame every 12. */
  readonly encode?: readonly string[]
  /** A second input, before `encode`: sound, for instance. */
  readonly second?: readonly string[]
}

export const h264 = [
  '-c:v',
  'libx264',
  '-preset',
  'ultrafast',
  '-bf',
  '2',
  '-g',
  '12',
  '-crf',
  '10',
  '-pix_fmt',
  'yuv420p',
]
export const exactTimes = ['-vsync', 'passthrough', '-enc_time_base', '1:90000', '-video_track_timescale', '90000']
export const tone = ['-f', 'lavfi', '-i', 'sine=frequency=440:sample_rate=44100:duration=2']

/** Writes a clip with the ffmpeg that npm installs: it is the same on every machine and encodes all we need. */
export async function makeClip(path: string, recipe: Recipe = {}): Promise<string> {
  const { rateHz = 30, frames = 60, filters = [], encode = h264, second = [] } = recipe
  const bit = `gt(mod(floor(N/pow(2,floor(X/${squarePx}))),2),0)`
  const luma = `if(lt(Y,${bitsHeightPx}),50+150*${bit},40+X)`
  const source = `color=black:s=${madeSizePx.widthPx}x${madeSizePx.heightPx}:r=${rateHz},format=yuv420p,geq=lum='${luma}':cb=128:cr=128`
  await ffmpeg([
    ...['-f', 'lavfi', '-i', source, ...second],
    ...['-frames:v', String(frames), '-vf', ['null', ...filters].join(), ...encode, path],
  ])
  return path
}

/** Runs the ffmpeg that npm installs; throws what it said when it fails. */
export async function ffmpeg(args: readonly string[]): Promise<void> {
  const installed = ffmpegCandidates(process.env).find((candidate) => candidate.source === '@ffmpeg-installer')
  if (installed?.kind !== 'found') throw new Error('the ffmpeg that npm installs is not there')
  const run = await runProgram(installed.path, ['-y', '-loglevel', 'error', ...args], Buffer.alloc(0), 60_000)
  if (run.kind !== 'ended' || run.exitCode !== 0) throw new Error(JSON.stringify(run))
}

/** The number that a full-size frame of a made clip shows, turned back by `rotationDeg`. */
export function numberIn(frame: Frame, rotationDeg = 0): number {
  let number = 0
  for (let k = 0; k < 8; k++) {
    const value = storedLuma(frame, rotationDeg, (k + 0.5) * squarePx, bitsHeightPx / 2)
    if (value > 125) number += 2 ** k
  }
  return number
}

/** Luma of a full-size frame at a place of the stored picture, before it was turned clockwise by `rotationDeg`. */
export function storedLuma(frame: Frame, rotationDeg: number, x: number, y: number): number {
  const { widthPx, heightPx } = frame.view
  const turned: Record<number, [number, number]> = {
    0: [x, y],
    90: [widthPx - 1 - y, x],
    180: [widthPx - 1 - x, heightPx - 1 - y],
    270: [y, heightPx - 1 - x],
  }
  const [column, row] = turned[rotationDeg] ?? [NaN, NaN]
  return frame.y[row * widthPx + column] ?? NaN
}
