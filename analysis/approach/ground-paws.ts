import { UNKNOWN_CELL } from '../dog/strip.ts'
import { quantile } from '../numeric/robust.ts'
import { oddsOf } from '../silhouette/placed-look.ts'
import type { PlaneGrid } from './approach-grids.ts'
import type { ApproachLook } from './approach-watch.ts'

/** Something that stood still on the ground before the plank, as a paw does. */
export interface GroundPaw {
  /** Middle of the sole: level distance from the entry end, negative before it, and from the plank's middle line, positive towards the camera, m. */
  readonly aheadM: number
  readonly asideM: number
  readonly fromS: number
  readonly toS: number
}

/** Odds from which on a place of the ground counts as hidden by something. */
const HIDDEN_ODDS = 2.5
/** The foot of something is where this many of these rows, from the nearest on, are hidden. */
const FOOT_ROWS = { of: 3, hidden: 2 }
/** A foot stands still while its near border stays within this, m; it may be missed in one look. */
const STILL_M = 0.035
const MISSED_LOOKS = 1
/** A paw stands this long, s, is seen at least so often, and is this wide, m. */
const STANDS_S = { from: 0.055, to: 0.45 }
const FEWEST_LOOKS = 3
const WIDE_M = { from: 0.02, to: 0.2 }
/** Columns of one paw come down and lift together: their times overlap by this share, their borders lie this close, m. */
const OVERLAP = 0.34
const ALIKE_M = 0.08
/** ... and they are no further apart than this, columns. */
const APART = 2
/** The sole's middle lies behind its near border by about this, m: soles are 3 to 7 cm wide (common practice, no source). */
const HALF_SOLE_M = 0.025
/** The lowest part of a paw's border is its sole, m. */
const SOLE_M = 0.025

interface Run {
  readonly column: number
  readonly fromLook: number
  readonly toLook: number
  readonly borderM: number
}

/**
 * Finds paws that stand on the ground: places at which the foot of what hides the ground stays where it is.
 *
 * @param looks in order of time
 * @param grid of the ground, rows from the nearest on
 * @returns paws in order of time; people's feet may be among them
 */
export function groundPaws(looks: readonly ApproachLook[], grid: PlaneGrid): readonly GroundPaw[] {
  const borders = looks.map(({ ground }) => bordersOf(ground, grid))
  const runs = grid.aheadM.reduce<Run[]>((all, _, column) => {
    all.push(...runsOf(borders, column))
    return all
  }, [])
  return pawsOf(runs, looks, grid)
}

/** How far aside the foot of what is seen in each column stands, m; NaN where the ground is empty. */
function bordersOf(ground: Uint8Array, { aheadM, rowM }: PlaneGrid): Float64Array {
  const columns = aheadM.length
  const rows = rowM.length
  return aheadM.map((_, column) => {
    let hidden = 0
    for (let row = 0; row < rows; row++) {
      const tenths = ground[row * columns + column]!
      if (tenths !== UNKNOWN_CELL && oddsOf(tenths) > HIDDEN_ODDS) hidden |= 1
      let count = 0
      for (let k = 0; k < FOOT_ROWS.of; k++) count += (hidden >> k) & 1
      if (count >= FOOT_ROWS.hidden) {
        // The first hidden row of these is the border.
        let first = row
        for (let k = FOOT_ROWS.of - 1; k >= 0; k--) {
          if (((hidden >> k) & 1) === 0) continue
          first = row - k
          break
        }
        return rowM[Math.max(0, first)]!
      }
      hidden = (hidden << 1) & ((1 << FOOT_ROWS.of) - 1)
    }
    return NaN
  })
}

function runsOf(borders: readonly Float64Array[], column: number): Run[] {
  const runs: Run[] = []
  let [from, last, sum, count] = [-1, -1, 0, 0]
  const close = () => {
    if (count >= FEWEST_LOOKS) runs.push({ column, fromLook: from, toLook: last, borderM: sum / count })
    count = 0
    sum = 0
  }
  for (let k = 0; k < borders.length; k++) {
    const borderM = borders[k]![column]!
    const isStill = count > 0 && Math.abs(borderM - sum / count) < STILL_M
    if (count > 0 && !isStill && (k - last > MISSED_LOOKS || !Number.isNaN(borderM))) close()
    if (Number.isNaN(borderM)) continue
    if (count === 0) from = k
    last = k
    sum += borderM
    count++
  }
  close()
  return runs
}

function pawsOf(runs: readonly Run[], looks: readonly ApproachLook[], { aheadM }: PlaneGrid): GroundPaw[] {
  const isTaken = new Uint8Array(runs.length)
  const cellM = aheadM[1]! - aheadM[0]!
  const paws: GroundPaw[] = []
  runs.forEach((_, start) => {
    if (isTaken[start] === 1) return
    const group: Run[] = []
    const open = [start]
    isTaken[start] = 1
    for (let i = open.pop(); i !== undefined; i = open.pop()) {
      const run = runs[i]!
      group.push(run)
      runs.forEach((other, j) => {
        if (isTaken[j] === 1 || Math.abs(other.column - run.column) > APART || !areAlike(run, other)) return
        isTaken[j] = 1
        open.push(j)
      })
    }
    const nearestM = Math.max(...group.map(({ borderM }) => borderM))
    const sole = group.filter(({ borderM }) => borderM > nearestM - SOLE_M)
    const columns = sole.map(({ column }) => column)
    const widthM = (Math.max(...columns) - Math.min(...columns) + 1) * cellM
    const fromS = quantile(
      sole.map(({ fromLook }) => looks[fromLook]!.ptsS),
      0.5,
    )
    const toS = quantile(
      sole.map(({ toLook }) => looks[toLook]!.ptsS),
      0.5,
    )
    if (widthM < WIDE_M.from || widthM > WIDE_M.to || toS - fromS < STANDS_S.from || toS - fromS > STANDS_S.to) return
    paws.push({
      aheadM: columns.reduce((sum, column) => sum + aheadM[column]!, 0) / columns.length,
      asideM: sole.reduce((sum, { borderM }) => sum + borderM, 0) / sole.length - HALF_SOLE_M,
      fromS,
      toS,
    })
  })
  return paws.sort((a, b) => a.fromS - b.fromS)
}

function areAlike(a: Run, b: Run): boolean {
  const overlap = Math.min(a.toLook, b.toLook) - Math.max(a.fromLook, b.fromLook) + 1
  const longer = Math.max(a.toLook - a.fromLook, b.toLook - b.fromLook) + 1
  return Math.abs(a.borderM - b.borderM) < ALIKE_M && overlap > OVERLAP * longer
}
