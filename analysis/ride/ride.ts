import type { ClipInfo } from '../clip/frame.ts'
import type { Estimate } from '../estimate.ts'

/** What one ride file (`ride.json`) holds. Times in s of real time, lengths in m along the plank from the entry end. */
export interface Ride {
  readonly schema: 'tiphold.ride/1'
  readonly program: { readonly version: string }
  readonly clip: ClipInfo
  readonly events: RideEvents
  readonly measures: RideMeasures
  readonly zones: { readonly up: ZoneResult; readonly down: DownZoneResult }
  readonly leaving: { readonly verdict: LeavingVerdict }
  readonly footfalls: readonly RideFootfall[]
  readonly frames: RideFrames
  /** Things a handler should know about this measurement, a sentence each; may be empty. */
  readonly notes: readonly string[]
}

export interface RideEvents {
  readonly firstOn: Estimate
  readonly tipStart: Estimate
  readonly grounded: Estimate
  readonly settled: Estimate
  readonly left: Estimate
  readonly bangHeard: Estimate
}

export interface RideMeasures {
  readonly leadPawAtTipM: Estimate
  readonly bodyAtTipM: Estimate
  readonly dropTimeS: Estimate
  readonly holdBeforeGroundS: Estimate
  readonly stayAfterGroundS: Estimate
  /** left - grounded, signed; negative: left before the board landed. */
  readonly leavingMarginS: Estimate
  readonly entrySpeedMps: Estimate
  readonly climbSpeedMps: Estimate
  /** Between successive footfalls of the same front paw on the climb; absent in rides of older versions, like the next two. */
  readonly strideM?: Estimate
  /** Of the paws' path over the ground to the plank's axis, positive when the dog comes from the camera's side. */
  readonly entryAngleDeg?: Estimate
  /** How far beside the plank's middle line that path meets the entry end, positive towards the camera. */
  readonly entryOffsetM?: Estimate
  readonly bounceM: Estimate
  /** How far the base has shifted along the ground once the board has come back; absent in rides of older versions. */
  readonly baseShiftM?: Estimate
  readonly baseLiftM?: Estimate
  readonly pauses: readonly Pause[]
  readonly turnedBack: boolean
}

export interface Pause {
  readonly fromS: number
  readonly toS: number
  readonly bodyM: number
}

export type ZoneVerdict = 'touched' | 'missed' | 'unsure'

export interface ZoneResult {
  readonly verdict: ZoneVerdict
  readonly first: Estimate
  readonly last: Estimate
  /** Signed distance of the deepest touching paw from the zone's inner border, m; negative = inside. */
  readonly clearanceM: Estimate
}

export interface DownZoneResult extends ZoneResult {
  readonly touchedAfterGround: 'yes' | 'no' | 'unsure'
}

export type LeavingVerdict = 'after-ground' | 'before-ground' | 'before-tip' | 'too-close' | 'not-seen'

export interface RideFootfall {
  readonly alongM: number
  readonly fromS: number
  readonly toS: number
  readonly limb: 'front' | 'hind' | 'unknown'
  readonly confidence: number
}

/** Per-frame curves; `null` where a frame has no value. Degrees and metres. */
export interface RideFrames {
  readonly ptsS: readonly number[]
  readonly boardAngleDeg: readonly (number | null)[]
  readonly leadPawM: readonly (number | null)[]
  readonly rearPawM: readonly (number | null)[]
  readonly bodyM: readonly (number | null)[]
}
