import type { Frame, View } from '../../../analysis/clip/frame.ts'
import { viewFor } from '../../../analysis/clip/view.ts'
import type { Estimate } from '../../../analysis/estimate.ts'
import type { RideFootfall } from '../../../analysis/ride/ride.ts'
import { runProgram } from '../../film/engines/run-program.ts'
import type { ShownBoard } from '../../measuring/measured-ride.ts'
import type { MediaFfmpeg, ProbedClip } from '../../film/media/probed-clip.ts'
import { readStill } from '../../film/media/read-stills.ts'
import { type FrameDrawing, frameDrawing, nearestFrame } from '../../../analysis/drawing/frame-drawing.ts'
import { isMeasured } from '../../../analysis/words/in-words.ts'
import { stillCrop } from './still-crop.ts'

const stillWidthPx = 1100
const encodeLimitMs = 30_000

/** A real frame of the clip with the measurement to be drawn on it. */
export interface Still {
  /** What it shows: "The board begins to tip". */
  readonly caption: string
  readonly ptsS: number
  readonly frameIndex: number
  readonly boardAngleDeg: number | null
  readonly jpeg: Uint8Array
  /** Where the JPEG lies in the full picture. */
  readonly view: View
  /** null where the plank was not followed in this frame. */
  readonly drawing: FrameDrawing | null
}

/** An event whose frame is to be shown. */
export interface Moment {
  readonly caption: string
  readonly at: Estimate
}

export interface StillSource {
  readonly clip: ProbedClip
  readonly ffmpeg: MediaFfmpeg
  readonly signal: AbortSignal
}

/** The frames nearest to the measured ones of some moments, cropped to the seesaw, with the drawing for each. */
export async function takeStills(
  source: StillSource,
  picture: ShownBoard,
  footfalls: readonly RideFootfall[],
  moments: readonly Moment[],
): Promise<readonly Still[]> {
  const stills: Still[] = []
  for (const { caption, at } of moments) {
    if (!isMeasured(at)) continue
    const k = nearestFrame(picture.ptsS, at.value)
    const frame = await takeFrame(source, picture, k)
    if (frame === null) continue
    const angleRad = picture.angleRad[k] ?? NaN
    stills.push({
      caption,
      ptsS: picture.ptsS[k] ?? at.value,
      frameIndex: frame.index,
      boardAngleDeg: Number.isNaN(angleRad) ? null : (angleRad * 180) / Math.PI,
      jpeg: await jpegOf(frame, source),
      view: frame.view,
      drawing: frameDrawing(picture, k, footfalls),
    })
  }
  return stills
}

/** One frame at the size of a still; null where the clip is damaged there. */
async function takeFrame({ clip, ffmpeg, signal }: StillSource, picture: ShownBoard, k: number): Promise<Frame | null> {
  const crop = stillCrop(picture, k, clip.video)
  const view = viewFor(clip.video, crop, stillWidthPx / crop.widthPx)
  return readStill(clip, ffmpeg, picture.frameIndex[k] ?? 0, { view, signal })
}

async function jpegOf({ view, y, u, v }: Frame, { clip, ffmpeg }: StillSource): Promise<Uint8Array> {
  // Pictures of this size are stored with the newer standard's colours; a JPEG always has the older one's.
  const isHighDefinition = Math.max(clip.video.widthPx, clip.video.heightPx) >= 1280
  const colours = `scale=in_range=tv:out_range=pc:in_color_matrix=${isHighDefinition ? 'bt709' : 'bt601'}:out_color_matrix=bt601`
  const args = [
    ...['-hide_banner', '-loglevel', 'error', '-f', 'rawvideo', '-pix_fmt', 'yuv420p'],
    ...['-s', `${view.widthPx}x${view.heightPx}`, '-i', 'pipe:0', '-vf', `${colours},format=yuvj420p`],
    ...['-frames:v', '1', '-q:v', '4', '-f', 'mjpeg', 'pipe:1'],
  ]
  const run = await runProgram(ffmpeg.ffmpegPath, args, Buffer.concat([y, u, v]), encodeLimitMs)
  if (run.kind === 'ended' && run.exitCode === 0) return run.stdout
  throw new Error(`A still could not be encoded: ${run.kind === 'ended' ? run.stderr.trim() : run.why}`)
}
