import type { DamagedSpan } from '../clip/damage.ts'

/** The board's angle through the clip: parallel arrays, one element a frame. */
export interface BoardTrack {
  /** s of real time. */
  readonly ptsS: Float64Array
  /** rad, 0 level, negative while the entry end rests on the ground; NaN where `seen` is 0. */
  readonly angleRad: Float64Array
  /** Independent error of each frame's angle relative to `restAngleRad`, 1 sd, rad; NaN where not seen. */
  readonly sdRad: Float64Array
  /** 1 where the plank was followed in that frame. */
  readonly seen: Uint8Array
  /** Angle at rest before the ride, rad. Its own error is common to all frames and in `commonSdRad`. */
  readonly restAngleRad: number
  /** Common (calibration) error of all angles, 1 sd, rad. */
  readonly commonSdRad: number
  /** Relative error of angle differences from calibration (scale), 1 sd, dimensionless. */
  readonly scaleSd: number
  readonly lengthM: number
  /** Where pictures are damaged or missing; absent: nowhere. */
  readonly damagedS?: readonly DamagedSpan[]
}
