import type { ClipDetail } from '../../main/contract/clips.ts'
import type { RideDetail } from '../../main/contract/rides.ts'

/** A ride with its clip. */
export interface WholeRide {
  readonly detail: RideDetail
  readonly clip: ClipDetail
}
