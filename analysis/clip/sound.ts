/** A stretch of a clip's sound, mixed to one channel. */
export interface Sound {
  /** -1 to 1, evenly spaced; silence where the track has a gap. */
  readonly samples: Float32Array
  /** Samples per second of the file's own time (not divided by the slow-motion factor). */
  readonly rateHz: number
  /** The file's own time of the first sample, s, first video frame = 0. */
  readonly startFileS: number
}
