/** Points carry the name of their frame of reference, so that mixing two frames does not compile. */

/** Displayed picture at full resolution; the centre of the top left pixel is (0.5, 0.5); x right, y down. */
export interface ImagePx {
  readonly xPx: number
  readonly yPx: number
}

/**
 * Plank frame, moving with the board: `alongM` 0 at the entry end and L at the exit end on the top surface,
 * `aboveM` perpendicular to it, `acrossM` 0 at the near edge and the plank's width at the far edge.
 */
export interface PlankM {
  readonly alongM: number
  readonly aboveM: number
  readonly acrossM: number
}
