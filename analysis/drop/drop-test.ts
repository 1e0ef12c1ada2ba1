import type { PictureSizes } from '../board-sizes/picture-sizes.ts'
import type { RepeatedDrops } from '../board-physics/repeated-drops.ts'
import type { Estimate } from '../estimate.ts'

/** Weights that a test is done with, kg: rule books ask for 1 to 2.27. */
export const TEST_WEIGHT_KG = { min: 0.1, max: 20 } as const

/** What a drop-test file (`droptest.json`) holds. */
export interface DropTestFile {
  readonly schema: 'tiphold.droptest/1'
  readonly program: { readonly version: string }
  /** `assumed`: nobody gave the board, so that lengths and physics are provisional. */
  readonly boardFrom: 'file' | 'assumed'
  readonly drops: readonly Drop[]
  /** Drops with one weight at one place, where there are several. */
  readonly repeats: readonly RepeatedDrops[]
  readonly physics: {
    readonly inertiaKgM2: Estimate
    readonly biasTorqueNm: Estimate
    readonly coulombNm: Estimate
    readonly viscousNms: Estimate
  }
}

export interface Drop {
  /** File name of the clip. */
  readonly clip: string
  readonly massKg: number
  readonly massAtM: number
  readonly events: {
    /** The weight rests on the board, the hand still there. */
    readonly placed: Estimate
    /** The hand is off. */
    readonly released: Estimate
    readonly tipStart: Estimate
    readonly grounded: Estimate
  }
  readonly measures: {
    readonly fallFromPlacedS: Estimate
    readonly fallFromReleasedS: Estimate
    readonly bounceM: Estimate
    /** How far the base has shifted along the ground once the board has come back; absent in older files. */
    readonly baseShiftM?: Estimate
    readonly baseLiftM?: Estimate
  }
  /** True when the exit end sank by more than 50 mm; null when that was not seen. */
  readonly moved: boolean | null
  readonly frames: { readonly ptsS: readonly number[]; readonly boardAngleDeg: readonly (number | null)[] }
  readonly notes: readonly string[]
  /**
   * The board's sizes as the marks of its clip show them; with the first drop of a clip only, and absent where the marks
   * fit no board, and in older files.
   */
  readonly sizes?: PictureSizes
}
