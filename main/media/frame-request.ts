import type { View } from '../../analysis/clip/frame.ts'

/** Which frames of a clip are wanted, and how large. */
export interface FrameRequest {
  /** First and last moment wanted, s of real time, both included; the whole clip if absent. */
  readonly fromS?: number
  readonly toS?: number
  /** Capture rate / stored rate: the frames' `ptsS` is the file's time divided by it. Default 1. */
  readonly slowMotionFactor?: number
  /** Where to look, from `viewFor`. Default the whole picture at full size. */
  readonly view?: View
  /** Leave out frames that no other frame needs: cheap, uneven steps. */
  readonly referencesOnly?: boolean
  /** Leave out frames that follow the one before too soon, frames per s of real time. */
  readonly atMostHz?: number
  /** Luma only; `u` and `v` of the frames are empty. */
  readonly greyOnly?: boolean
  /** Aborted: reading stops at once, and the signal's reason is thrown. */
  readonly signal?: AbortSignal
}

/** A rectangle of the displayed picture, full-resolution px. */
export interface CropPx {
  readonly xPx: number
  readonly yPx: number
  readonly widthPx: number
  readonly heightPx: number
}
