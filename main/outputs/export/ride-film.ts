import type { Frame, View } from '../../../analysis/clip/frame.ts'
import { viewFor } from '../../../analysis/clip/view.ts'
import { filmTimeS, type SlowPassage, slowPassages } from '../../../analysis/drawing/film-pace.ts'
import { frameDrawing } from '../../../analysis/drawing/frame-drawing.ts'
import { fixed } from '../../../analysis/words/in-words.ts'
import type { FilmOverlays } from '../../contract/exports.ts'
import type { ShownRide } from '../../measuring/measured-ride.ts'
import type { MediaFfmpeg, ProbedClip } from '../../film/media/probed-clip.ts'
import { streamFrames } from '../../film/media/stream-frames.ts'
import { encodeFilm } from '../overlay/encode-film.ts'
import { matroskaHead, matroskaPicture } from '../overlay/matroska.ts'
import { type Inks, inksFor, paintCaption, paintDrawing } from '../overlay/paint-drawing.ts'
import { type TitleCard, titleCardFrame } from '../overlay/title-card.ts'

export interface FilmSource {
  readonly clip: ProbedClip
  readonly ffmpeg: MediaFfmpeg
  readonly signal: AbortSignal
  /** 0 to 1. */
  readonly onShareDone: (share: number) => void
}

export interface FilmLook {
  /** The longer side at most, px. */
  readonly longestPx: number
  /** The ride's frames that are shown, both included: elements of its arrays. */
  readonly elements: readonly [first: number, last: number]
  /** null: the clip's own pictures with nothing on them. */
  readonly drawn: FilmOverlays | null
  readonly isSlowed: boolean
  /** Shown before the film; null: none. */
  readonly title: TitleCard | null
  /** Only where the film goes at the clip's own pace, without a title. */
  readonly hasSound: boolean
  /** At the file's own pace, as in a slow-motion clip, and each frame once; else in real time. */
  readonly isFilePace: boolean
}

const TITLE_S = 3.5
const TITLE_STEP_S = 0.5
const HD_PX = 1280
/** Frames between those that stand alone. */
const KEY_EVERY = 12
/**
 * MP4 tells a film's length in whole ms, and old encoders (seen with one of 2018) end it with the beginning of its last
 * picture: one that begins on a whole ms is then cut off. So much later it is not, s.
 */
const LAST_LATER_S = 1e-5

/** How large a film's pictures become, px. */
function filmView({ video }: ProbedClip, longestPx: number): View {
  return viewFor(video, undefined, longestPx / Math.max(video.widthPx, video.heightPx))
}

/**
 * Writes a part of a ride as an MP4; at the clip's own pace each frame of the ride is one of the film. Gives how many
 * frames of the ride there were to write: fewer than wanted where the clip is damaged.
 */
export async function writeRideFilm(
  source: FilmSource,
  shown: ShownRide,
  look: FilmLook,
  path: string,
): Promise<number> {
  const { clip, ffmpeg, signal } = source
  const { ptsS } = shown.picture
  const factor = shown.ride.clip.slowMotionFactor
  const [fromS, toS] = [ptsS[look.elements[0]] ?? 0, ptsS[look.elements[1]] ?? 0]
  const sound = look.hasSound && !look.isSlowed ? { fromFileS: fromS * factor, lengthS: (toS - fromS) * factor } : null
  const job = { clip, ffmpeg, signal, what: 'The film', sound, keyEvery: KEY_EVERY }
  let framesDone = 0
  await encodeFilm(job, rideFilm({ ...source, onFrame: () => framesDone++ }, shown, look), path)
  return framesDone
}

interface WatchedSource extends FilmSource {
  readonly onFrame: () => void
}

async function* rideFilm(source: WatchedSource, shown: ShownRide, look: FilmLook): AsyncGenerator<Buffer> {
  const { clip, ffmpeg, signal, onShareDone, onFrame } = source
  const { ride, picture } = shown
  const view = filmView(clip, look.longestPx)
  const inks = inksFor(Math.max(clip.video.widthPx, clip.video.heightPx) >= HD_PX)
  const factor = ride.clip.slowMotionFactor
  const elementOf = new Map([...picture.frameIndex].map((index, k) => [index, k]))
  const [first, last] = look.elements
  const [fromS, toS] = [picture.ptsS[first] ?? 0, picture.ptsS[last] ?? 0]
  const slow = look.isSlowed ? slowPassages(ride.events) : []
  yield matroskaHead(view.widthPx, view.heightPx)
  let beginS = 0
  if (look.title !== null) {
    const { y, u, v } = titleCardFrame(look.title, view, inks)
    for (; beginS < TITLE_S; beginS += TITLE_STEP_S) yield matroskaPicture(beginS, [y, u, v])
  }
  let [framesDone, lastS, stepS] = [0, 0, 0]
  let lastPlanes: readonly Uint8Array[] = []
  for await (const frame of streamFrames(clip, ffmpeg, { fromS, toS, slowMotionFactor: factor, view, signal })) {
    const k = elementOf.get(frame.index)
    if (k === undefined || k < first || k > last) continue
    if (look.drawn !== null) paintFrame(frame, shown, k, look.drawn, slow, inks)
    const pace = look.isFilePace ? factor : 1
    const laterS = look.isFilePace && k === last ? LAST_LATER_S : 0
    const timeS = beginS + pace * filmTimeS(Math.max(frame.ptsS, fromS), fromS, slow) + laterS
    const planes = [frame.y.slice(), frame.u.slice(), frame.v.slice()]
    stepS = timeS - lastS
    lastS = timeS
    lastPlanes = planes
    framesDone++
    onFrame()
    yield matroskaPicture(timeS, planes)
    onShareDone((k - first + 1) / (last - first + 1))
  }
  // The last picture of an MP4 has no length of its own and players cut it off: show it once more.
  if (framesDone > 0 && !look.isFilePace) yield matroskaPicture(lastS + (framesDone > 1 ? stepS : 0.04), lastPlanes)
}

function paintFrame(
  frame: Frame,
  { ride, picture }: ShownRide,
  k: number,
  drawn: FilmOverlays,
  slow: readonly SlowPassage[],
  inks: Inks,
): void {
  const drawing = frameDrawing(picture, k, ride.footfalls)
  if (drawing !== null) paintDrawing(frame, drawing, inks, drawn)
  const isSlow = slow.some(([fromS, toS]) => frame.ptsS >= fromS && frame.ptsS <= toS)
  const caption = [`${fixed(frame.ptsS, 2)} s`, ...(isSlow ? ['1/4 speed'] : []), ...eventWord(ride, frame.ptsS)]
  paintCaption(frame, caption.join('   '), inks)
}

/** How long the word of an event stays, s of real time. */
const WORD_STAYS_S = 0.4

function eventWord({ events }: ShownRide['ride'], atS: number): readonly string[] {
  const words = [
    ['off', events.left],
    ['landed', events.grounded],
    ['tip', events.tipStart],
    ['on', events.firstOn],
  ] as const
  const found = words.find(([, at]) => at.kind === 'measured' && atS >= at.value && atS < at.value + WORD_STAYS_S)
  return found === undefined ? [] : [found[0]]
}
