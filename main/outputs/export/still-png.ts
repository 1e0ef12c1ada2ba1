import { viewFor } from '../../../analysis/clip/view.ts'
import { frameDrawing, nearestFrame } from '../../../analysis/drawing/frame-drawing.ts'
import type { FilmOverlays } from '../../contract/exports.ts'
import { runProgram } from '../../film/engines/run-program.ts'
import type { ShownRide } from '../../measuring/measured-ride.ts'
import type { MediaFfmpeg, ProbedClip } from '../../film/media/probed-clip.ts'
import { readStill } from '../../film/media/read-stills.ts'
import { inksFor, paintDrawing } from '../overlay/paint-drawing.ts'

const HD_PX = 1280
const LONGEST_PX = 1920
const ENCODE_LIMIT_MS = 60_000

/** The frame nearest to a time of the ride as a PNG, with what was measured drawn on it; null where the clip is damaged. */
export async function stillPng(
  source: { readonly clip: ProbedClip; readonly ffmpeg: MediaFfmpeg; readonly signal: AbortSignal },
  { ride, picture }: ShownRide,
  atS: number,
  drawn: FilmOverlays,
): Promise<Uint8Array | null> {
  const { clip, ffmpeg, signal } = source
  const k = nearestFrame(picture.ptsS, atS)
  const { widthPx, heightPx } = clip.video
  const view = viewFor(clip.video, undefined, LONGEST_PX / Math.max(widthPx, heightPx))
  const frame = await readStill(clip, ffmpeg, picture.frameIndex[k] ?? 0, { view, signal })
  if (frame === null) return null
  const isHighDefinition = Math.max(widthPx, heightPx) >= HD_PX
  const drawing = frameDrawing(picture, k, ride.footfalls)
  if (drawing !== null) paintDrawing(frame, drawing, inksFor(isHighDefinition), drawn)
  const run = await runProgram(
    ffmpeg.ffmpegPath,
    [
      ...['-hide_banner', '-loglevel', 'error', '-f', 'rawvideo', '-pix_fmt', 'yuv420p'],
      ...['-s', `${view.widthPx}x${view.heightPx}`, '-i', 'pipe:0'],
      ...['-vf', `scale=in_range=tv:in_color_matrix=${isHighDefinition ? 'bt709' : 'bt601'},format=rgb24`],
      ...['-frames:v', '1', '-c:v', 'png', '-f', 'image2pipe', 'pipe:1'],
    ],
    Buffer.concat([frame.y, frame.u, frame.v]),
    ENCODE_LIMIT_MS,
  )
  if (run.kind === 'ended' && run.exitCode === 0) return run.stdout
  throw new Error(`A still could not be encoded: ${run.kind === 'ended' ? run.stderr.trim() : run.why}`)
}
