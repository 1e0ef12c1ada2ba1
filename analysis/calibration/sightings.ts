import type { ImagePx } from '../geometry/points.ts'

/**
 * A feature of the plank found in a frame, in image px of the reference frame (the camera's motion taken out).
 * Sightings of one family show the same physical feature in all frames, for example `topEdge` or `exitEnd`.
 */
export interface Sighting {
  readonly family: string
  /** Where the feature lies along the plank from the entry end, m; for an edge any place on it. */
  readonly alongM: number
  /** The long side of the near face it lies on, or of the far one with `acrossM` = the plank's width. */
  readonly edge: 'upper' | 'lower'
  /** 0 (default) at the near edge, the plank's width at the far edge, m. */
  readonly acrossM?: number
  readonly image: ImagePx
  /**
   * The unit direction in which it was measured, for a feature without an end: an edge is placed only across itself.
   * Without it both coordinates count.
   */
  readonly normal?: { readonly x: number; readonly y: number }
  /** Independent error of this frame's measurement, 1 sd, px; not the share that is common to the family. */
  readonly sdPx: number
}

/** What was found in one frame. */
export interface FrameSightings {
  /** At rest and grounded the board stands as in the marked frames; else its angle is unknown. */
  readonly board: 'rest' | 'grounded' | 'moving'
  /** A fair guess of the angle, rad; used while moving. */
  readonly roughAngleRad: number
  readonly sightings: readonly Sighting[]
}

export interface RefineOptions {
  /**
   * What a tracker takes for a feature may lie off the true one by a constant along and across the edge, 1 sd, px:
   * blur, chamfers, shadows, paint. Default 1.
   */
  readonly familyOffsetSdPx?: number
  /** How well each frame was carried over to the reference frame: 1 sd of a shift in x and y, px. Default 0.3. */
  readonly frameShiftSdPx?: number
}
