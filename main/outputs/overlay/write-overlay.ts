import { type Frame, type View } from '../../../analysis/clip/frame.ts'
import { viewFor } from '../../../analysis/clip/view.ts'
import type { Estimate } from '../../../analysis/estimate.ts'
import type { Ride } from '../../../analysis/ride/ride.ts'
import type { OnProgress, ShownPicture, ShownRide } from '../../measuring/measured-ride.ts'
import type { MediaFfmpeg, ProbedClip } from '../../film/media/probed-clip.ts'
import { streamFrames } from '../../film/media/stream-frames.ts'
import { fixed } from '../../../analysis/words/in-words.ts'
import { frameDrawing } from '../../../analysis/drawing/frame-drawing.ts'
import { encodeFilm } from './encode-film.ts'
import { matroskaHead, matroskaPicture } from './matroska.ts'
import { inksFor, paintCaption, paintDrawing } from './paint-drawing.ts'

/** The longer side of an overlay at most, px. */
const longestPx = 1280
/** How long the word of an event stays in the caption, s of real time. */
const wordStaysS = 0.6

export interface OverlaySource {
  readonly clip: ProbedClip
  readonly ffmpeg: MediaFfmpeg
  readonly signal: AbortSignal
  readonly onProgress: OnProgress
}

/**
 * Writes the ride's part of the clip as an H.264 MP4 with the tracking drawn on each frame: every frame at its own
 * time, at the clip's own pace, with the clip's sound.
 *
 * @param path is overwritten; on failure it may hold a part of the film
 */
export async function writeOverlay(source: OverlaySource, measured: ShownRide, path: string): Promise<void> {
  const { clip, ffmpeg, signal } = source
  const { picture, ride } = measured
  const factor = ride.clip.slowMotionFactor
  const view = viewFor(clip.video, undefined, longestPx / Math.max(clip.video.widthPx, clip.video.heightPx))
  const fromFileS = (picture.ptsS[0] ?? 0) * factor
  const lengthS = (picture.ptsS.at(-1) ?? 0) * factor - fromFileS
  const job = { clip, ffmpeg, signal, what: 'The overlay', sound: { fromFileS, lengthS } }
  await encodeFilm(job, overlayFilm(source, measured, view, fromFileS), path)
}

/** The painted frames as a Matroska stream; its time 0 is the ride's first frame. */
async function* overlayFilm(
  { clip, ffmpeg, signal, onProgress }: OverlaySource,
  { ride, picture }: ShownRide,
  view: View,
  fromFileS: number,
): AsyncGenerator<Buffer> {
  const factor = ride.clip.slowMotionFactor
  const inks = inksFor(Math.max(clip.video.widthPx, clip.video.heightPx) >= longestPx)
  const elementOf = new Map([...picture.frameIndex].map((index, k) => [index, k]))
  const [fromS, toS] = [picture.ptsS[0] ?? 0, picture.ptsS.at(-1) ?? 0]
  const request = { fromS, toS, slowMotionFactor: factor, view, signal }
  let framesDone = 0
  let last = { timeS: 0, stepS: 0, planes: [] as readonly Uint8Array[] }
  yield matroskaHead(view.widthPx, view.heightPx)
  for await (const frame of streamFrames(clip, ffmpeg, request)) {
    const k = elementOf.get(frame.index)
    const drawing = k === undefined ? null : frameDrawing(picture, k, ride.footfalls)
    if (drawing !== null) paintDrawing(frame, drawing, inks)
    paintCaption(frame, caption(frame, ride, picture, k), inks)
    const timeS = Math.max(frame.ptsS * factor - fromFileS, 0)
    last = { timeS, stepS: timeS - last.timeS, planes: [frame.y.slice(), frame.u.slice(), frame.v.slice()] }
    yield matroskaPicture(timeS, last.planes)
    framesDone++
    onProgress({ step: 'drawing', doing: 'drawing the overlay', framesDone, framesTotal: picture.ptsS.length })
  }
  // The last picture of an MP4 has no length of its own and players cut it off: show it once more.
  if (framesDone > 0) yield matroskaPicture(last.timeS + last.stepS, last.planes)
}

function caption(frame: Frame, ride: Ride, picture: ShownPicture, k: number | undefined): string {
  const angleRad = k === undefined ? NaN : (picture.angleRad[k] ?? NaN)
  const board = Number.isNaN(angleRad) ? [] : [`board ${fixed((angleRad * 180) / Math.PI, 1)}°`]
  const word = wordAt(ride, frame.ptsS)
  return [`${fixed(frame.ptsS, 3)} s`, `frame ${frame.index}`, ...board, ...(word === null ? [] : [word])].join('   ')
}

function wordAt(ride: Ride, atS: number): string | null {
  const { firstOn, tipStart, grounded, left } = ride.events
  const words: readonly (readonly [string, Estimate])[] = [
    ['off', left],
    ['landed', grounded],
    ['tip', tipStart],
    ['on', firstOn],
  ]
  const happened = ([, event]: readonly [string, Estimate]) =>
    event.kind === 'measured' && atS >= event.value && atS < event.value + wordStaysS
  return words.find(happened)?.[0] ?? null
}
