import { readFileSync } from 'node:fs'
import type { BoardTrack } from '../../../analysis/board/board-track.ts'
import type { DogTrack } from '../../../analysis/dog/dog-track.ts'
import type { MeasuredParts } from '../../../analysis/ride/correct-ride.ts'
import type { Ride } from '../../../analysis/ride/ride.ts'
import type { Listed, RidePictureRecord } from '../../../main/contract/rides.ts'

/** What this program measured in the sample clip wren-hold, with all its curves. */
export interface KeptParts {
  readonly measured: Ride
  readonly dog: Listed<DogTrack>
  readonly track: Listed<BoardTrack>
  readonly picture: RidePictureRecord
}

export const wrenHold = JSON.parse(
  readFileSync(new URL('./wren-hold.parts.json', import.meta.url), 'utf8'),
) as KeptParts

const floats = (values: readonly (number | null)[]): Float64Array => Float64Array.from(values, (v) => v ?? NaN)

export const wrenHoldParts: MeasuredParts = {
  measured: wrenHold.measured,
  board: wrenHold.picture.board,
  track: {
    ...wrenHold.track,
    ptsS: floats(wrenHold.track.ptsS),
    angleRad: floats(wrenHold.track.angleRad),
    sdRad: floats(wrenHold.track.sdRad),
    seen: Uint8Array.from(wrenHold.track.seen),
  },
  dog: {
    ...wrenHold.dog,
    ptsS: floats(wrenHold.dog.ptsS),
    leadPawM: floats(wrenHold.dog.leadPawM),
    leadPawSdM: floats(wrenHold.dog.leadPawSdM),
    rearPawM: floats(wrenHold.dog.rearPawM),
    rearPawSdM: floats(wrenHold.dog.rearPawSdM),
    bodyM: floats(wrenHold.dog.bodyM),
    bodySdM: floats(wrenHold.dog.bodySdM),
  },
}
