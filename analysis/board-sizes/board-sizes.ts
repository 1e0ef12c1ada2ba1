import type { Board } from '../board/board.ts'
import { measured, withheld, type Estimate, type Measured } from '../estimate.ts'
import { checkLength, type BuildFinding } from '../rules/build-check.ts'
import type { RuleSet } from '../rules/rule-sets.ts'
import type { PictureSizes } from './picture-sizes.ts'

/** What pictures of a board say of its sizes, all pictures taken together. */
export interface BoardSizes {
  /** How many pictures were marked. */
  readonly pictures: number
  readonly upContactM: Measured
  readonly downContactM: Measured
  /** Both zones together. */
  readonly contactM: Measured
  readonly pivotHeightM: Measured
  readonly restAngleDeg: Measured
  readonly swingDeg: Estimate
  /** No picture tells how long anything is, nor whether the ground or the camera was level. */
  readonly lengthM: Estimate
  readonly levelDeg: Estimate
  /** Zones and height against the rule set. */
  readonly findings: readonly BuildFinding[]
  /** Entered sizes that the pictures contradict. */
  readonly doubts: readonly SizeDoubt[]
}

/** A size that was entered, or taken for alike, and that the pictures contradict. */
export interface SizeDoubt {
  readonly what: 'contactM' | 'pivotHeightM' | 'zones-differ'
  /** As entered, m; of zones that differ the up contact. */
  readonly enteredM: number
  /** As the pictures show it, m; of zones that differ the down contact. */
  readonly seenM: Measured
}

/** Ground under the ends is uneven in the same way in all pictures of one place: no number of them tells the height better, 1 sd, m (as calibration takes it: 1.5 cm under each end). */
const GROUND_SD_M = 0.0106
/** The common error of the angles from the same ground, 1 sd, deg: 1.06 cm at 1.83 m. */
const GROUND_SD_DEG = 0.33
/** A tape is right to this, 1 sd, m (an estimate, as in the check of entered sizes). */
const TAPE_SD_M = 0.002
/** A contradiction is named from this many sd on: by chance once in a hundred sizes. */
const CONTRADICTS_SD = 2.576

const NO_SCALE = withheld(
  'not-clear',
  'Pictures show proportions only: lengths that are all wrong by the same share show in none. Measure the plank by tape.',
)
const NO_LEVEL = withheld(
  'not-clear',
  'No picture tells sloping ground from a tilted camera: lay a spirit level on the base.',
)

/**
 * What pictures of a board say of its sizes.
 *
 * @param pictures of one board, each told by the length that was entered then
 * @param board as entered, m: its length gives the scale
 * @param rules whose build the sizes are held against
 * @returns null without pictures
 */
export function boardSizes(
  pictures: readonly PictureSizes[],
  board: Board,
  rules: Pick<RuleSet, 'build'>,
): BoardSizes | null {
  if (pictures.length === 0) return null
  const scaled = pictures.map((sizes) => (estimate: Measured) => times(estimate, board.lengthM / sizes.lengthM))
  const together = (of: (sizes: PictureSizes) => readonly Measured[], commonSd = 0) =>
    mean(
      pictures.flatMap((sizes, k) => of(sizes).map(scaled[k]!)),
      commonSd,
    )
  const angles = (of: (sizes: PictureSizes) => Estimate, commonSd: number) => {
    const seen = pictures.map(of).filter((estimate) => estimate.kind === 'measured')
    return seen.length === 0 ? of(pictures[0]!) : mean(seen, commonSd)
  }
  const upContactM = together((sizes) => [sizes.upContactM])
  const downContactM = together((sizes) => [sizes.downContactM])
  const contactM = together((sizes) => [sizes.upContactM, sizes.downContactM])
  const pivotHeightM = together((sizes) => [sizes.pivotHeightM], GROUND_SD_M)
  const seen = [
    ['contactM', contactM],
    ['pivotHeightM', pivotHeightM],
  ] as const
  return {
    pictures: pictures.length,
    upContactM,
    downContactM,
    contactM,
    pivotHeightM,
    restAngleDeg: angles((sizes) => sizes.restAngleDeg, GROUND_SD_DEG) as Measured,
    swingDeg: angles((sizes) => sizes.swingDeg, 2 * GROUND_SD_DEG),
    lengthM: NO_SCALE,
    levelDeg: NO_LEVEL,
    findings: seen.flatMap(([part, { value, sd }]) => checkLength(part, value, sd, rules) ?? []),
    doubts: [
      ...(contradicts(upContactM, downContactM.value, downContactM.sd)
        ? [{ what: 'zones-differ', enteredM: upContactM.value, seenM: downContactM } as const]
        : []),
      ...seen.flatMap(([what, seenM]) =>
        contradicts(seenM, board[what], TAPE_SD_M) ? [{ what, enteredM: board[what], seenM } as const] : [],
      ),
    ],
  }
}

function contradicts({ value, sd }: Measured, otherM: number, otherSdM: number): boolean {
  return Math.abs(value - otherM) > CONTRADICTS_SD * Math.hypot(sd, otherSdM)
}

function times({ value, sd }: Measured, factor: number): Measured {
  return measured(value * factor, sd * factor)
}

/**
 * The weighted mean of values that share a common error. Values that scatter by more than they say are told less surely,
 * by the factor that explains it (Birge, Phys. Rev. 40, 1932).
 */
function mean(values: readonly Measured[], commonSd: number): Measured {
  const own = values.map(({ sd }) => Math.max(sd ** 2 - commonSd ** 2, (sd / 4) ** 2))
  const weight = own.reduce((sum, variance) => sum + 1 / variance, 0)
  const value = values.reduce((sum, one, k) => sum + one.value / own[k]!, 0) / weight
  const squares = values.reduce((sum, one, k) => sum + (one.value - value) ** 2 / own[k]!, 0)
  const birge = values.length > 1 ? Math.max(1, Math.sqrt(squares / (values.length - 1))) : 1
  return measured(value, Math.hypot(birge / Math.sqrt(weight), commonSd))
}
