import { availableParallelism } from 'node:os'
import { type View } from '../../../analysis/clip/frame.ts'
import { viewFor } from '../../../analysis/clip/view.ts'
import type { DecodeDepth, FrameRequest } from './frame-request.ts'
import type { ProbedClip, VideoTrack } from './probed-clip.ts'

/** How to get the frames of a request out of ffmpeg. */
export interface FramePlan {
  /** First and last frame wanted, display order. */
  readonly firstIndex: number
  readonly lastIndex: number
  readonly view: View
  readonly greyOnly: boolean
  /** True when no frame between the first and the last is left out on purpose. */
  readonly takesEveryFrame: boolean
  /** Where decoding starts, raw s; null: at the start of the file. */
  readonly seekRawS: number | null
  readonly decoderArgs: readonly string[]
  /** ffmpeg's filter chain; it logs the timestamp of every frame that it lets pass. */
  readonly filter: string
}

/** Bytes of one decoded frame of a plan. */
export function pictureBytes(plan: Pick<FramePlan, 'view' | 'greyOnly'>): number {
  const pixels = plan.view.widthPx * plan.view.heightPx
  return plan.greyOnly ? pixels : (pixels * 3) / 2
}

/** Plans a request; null when no frame of the clip lies between `fromS` and `toS`. */
export function planFrames(clip: ProbedClip, request: FrameRequest): FramePlan | null {
  const factor = request.slowMotionFactor ?? 1
  const times = clip.video.fileTimesS
  const firstIndex = firstAtOrAfter(times, (request.fromS ?? -Infinity) * factor)
  const lastIndex = firstAtOrAfter(times, (request.toS ?? Infinity) * factor + 2 * ROUNDING_S) - 1
  if (lastIndex < firstIndex) return null
  const rules = [between(clip.video, firstIndex, lastIndex)]
  if (request.atMostHz !== undefined) {
    const stepS = (factor / request.atMostHz) * 0.999
    rules.push(`(isnan(prev_selected_t)+gte(t-prev_selected_t,${stepS.toFixed(6)}))`)
  }
  const takesEveryFrame = request.atMostHz === undefined && (request.depth ?? 'all') === 'all'
  return planOf(clip, request, firstIndex, lastIndex, rules.join('*'), takesEveryFrame)
}

/** Plans to get given frames, rising indices that lie close together. */
export function planPicked(clip: ProbedClip, request: FrameRequest, indices: readonly number[]): FramePlan {
  const condition = pickedCondition(clip.video, indices)
  return planOf(clip, request, indices[0] ?? 0, indices.at(-1) ?? 0, condition, false)
}

/** The key frame at or before a frame, where decoding can start. */
export function keyFrameBefore(video: VideoTrack, index: number): number {
  return Math.max(0, video.isKeyFrame.lastIndexOf(1, index))
}

/** The log shows times to the microsecond. */
const ROUNDING_S = 1e-6

function planOf(
  clip: ProbedClip,
  request: FrameRequest,
  firstIndex: number,
  lastIndex: number,
  condition: string,
  takesEveryFrame: boolean,
): FramePlan {
  const { video } = clip
  const view = request.view ?? viewFor(video)
  const greyOnly = request.greyOnly ?? false
  const choice = chosenFrames(clip, firstIndex, lastIndex, condition)
  return {
    firstIndex,
    lastIndex,
    view,
    greyOnly,
    takesEveryFrame,
    seekRawS: choice.seekRawS,
    decoderArgs: [...DEPTH_ARGS[request.depth ?? 'all'], '-threads', String(decoderThreads(video))],
    filter: [
      ...choice.filters,
      ...pictureFilters(video, view),
      'format=yuv420p',
      ...(greyOnly ? ['extractplanes=y'] : []),
    ].join(),
  }
}

/** How ffmpeg is told to decode some frames only. */
export interface FrameChoice {
  /** Where decoding starts, raw s; null: at the start of the file. */
  readonly seekRawS: number | null
  /** The first filters of a chain; they log the timestamp of every frame that passes. */
  readonly filters: readonly string[]
}

/**
 * Chooses frames by ffmpeg's own means.
 *
 * @param condition ffmpeg's condition for those from `firstIndex` to `lastIndex` that are wanted
 */
export function chosenFrames(clip: ProbedClip, firstIndex: number, lastIndex: number, condition: string): FrameChoice {
  const { video } = clip
  // Without the trim, ffmpeg would decode on to the end of the file after the last frame wanted. It rounds its end to
  // the container's ticks, so the end is the next frame's own time.
  const next = video.fileTimesS[lastIndex + 1] ?? video.fileDurationS + 1
  return {
    seekRawS: seekTarget(clip, firstIndex),
    filters: [`trim=end=${(video.firstRawS + next).toFixed(6)}`, `select='if(${condition},1+0*print(t),0)'`],
  }
}

/** ffmpeg's condition for single frames. */
export function pickedCondition(video: VideoTrack, indices: readonly number[]): string {
  return indices.map((index) => between(video, index, index)).join('+')
}

const DEPTH_ARGS: Readonly<Record<DecodeDepth, readonly string[]>> = {
  all: [],
  references: ['-skip_frame', 'noref', '-skip_loop_filter', 'all'],
  keys: ['-skip_frame', 'nokey'],
}

/** From the displayed picture, which ffmpeg has already turned, to the view. */
function pictureFilters(video: VideoTrack, view: View): string[] {
  const widthPx = Math.round(view.widthPx / view.scale)
  const heightPx = Math.round(view.heightPx / view.scale)
  const isAll = widthPx === video.widthPx && heightPx === video.heightPx
  const range = video.isFullRange ? ':out_range=tv' : ''
  return [
    ...(video.isSquare ? [] : [`scale=${video.widthPx}:${video.heightPx}:flags=bilinear`]),
    ...(isAll ? [] : [`crop=${widthPx}:${heightPx}:${view.originXPx}:${view.originYPx}`]),
    `scale=${view.widthPx}:${view.heightPx}:flags=bilinear${range}`,
  ]
}

/** ffmpeg's condition for the frames from one index to another. */
export function between(video: VideoTrack, firstIndex: number, lastIndex: number): string {
  return `between(t,${borderAfter(video, firstIndex - 1)},${borderAfter(video, lastIndex)})`
}

/** Raw time half-way between a frame and the next one, s; a second beyond the ends of the track. */
function borderAfter(video: VideoTrack, index: number): string {
  const times = video.fileTimesS
  const before = times[index] ?? -2
  const after = times[index + 1] ?? before + 2
  return (video.firstRawS + (before + after) / 2).toFixed(7)
}

/**
 * Only containers with an index are searched; others guess times after a jump. The jump aims a little past the key
 * frame's time, or ffmpeg may take the one before, which costs time but no frame.
 */
function seekTarget(clip: ProbedClip, firstIndex: number): number | null {
  const keyIndex = keyFrameBefore(clip.video, firstIndex)
  if (keyIndex === 0 || (clip.format !== 'mov' && clip.format !== 'matroska')) return null
  return clip.video.firstRawS + (clip.video.fileTimesS[keyIndex] ?? 0) + 1e-3
}

/** As many as there are cores, but fewer for large pictures, since each decoder thread holds some. */
export function decoderThreads(video: VideoTrack): number {
  const bytes = video.widthPx * video.heightPx * (video.bitDepth > 8 ? 3 : 1.5)
  return Math.max(2, Math.min(availableParallelism(), 16, Math.floor(100e6 / bytes)))
}

/** Index of the first time >= `atS` (within rounding); the length when there is none. */
function firstAtOrAfter(times: Float64Array, atS: number): number {
  const index = times.findIndex((t) => t >= atS - ROUNDING_S)
  return index < 0 ? times.length : index
}
