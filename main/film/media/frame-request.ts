import type { View } from '../../../analysis/clip/frame.ts'

/** Which frames of a clip are wanted, and how large. */
export interface FrameRequest {
  /** First and last moment wanted, s of real time, both included; the whole clip if absent. */
  readonly fromS?: number
  readonly toS?: number
  /** Capture rate / stored rate: the frames' `ptsS` is the file's time divided by it. Default 1. */
  readonly slowMotionFactor?: number
  /** Where to look and how large, from `viewFor`. Default the whole picture at full size. */
  readonly view?: View
  /** Which frames to decode. Default 'all'; see `DecodeDepth`. */
  readonly depth?: DecodeDepth
  /** Leave out frames that follow the one before too soon: at most so many frames per s of real time. */
  readonly atMostHz?: number
  /** Luma only; `u` and `v` of the frames are empty. */
  readonly greyOnly?: boolean
  /** Aborted: reading stops at once, and the signal's reason is thrown. */
  readonly signal?: AbortSignal
}

/**
 * 'all' frames; 'references' leaves out those that no other frame needs, and the smoothing of block borders: uneven
 * steps, a little coarse, for scans; 'keys' only those that stand alone, one in a second or so, by far the cheapest.
 */
export type DecodeDepth = 'all' | 'references' | 'keys'
