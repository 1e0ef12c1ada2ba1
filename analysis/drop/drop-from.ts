import type { BoardTrack } from '../board/board-track.ts'
import { DAMAGED_HERE, isNearDamage } from '../clip/damage.ts'
import { measured, withheld, type Estimate } from '../estimate.ts'
import type { PictureSizes } from '../board-sizes/picture-sizes.ts'
import type { BoardEvents } from '../ride/board-events.ts'
import { baseNotes, NO_LIFT } from '../ride/base-words.ts'
import type { Drop } from './drop-test.ts'
import type { WeightTimes } from './weight.ts'

/** What a drop is put together from. */
export interface DropParts {
  /** File name of the clip. */
  readonly clip: string
  readonly massKg: number
  /** m along from the entry end. */
  readonly massAtM: number
  readonly track: BoardTrack
  /** What `findBoardEvents` finds in `track`. */
  readonly boardEvents: BoardEvents
  readonly weight: WeightTimes
  /** How far the base has shifted, m. */
  readonly baseShiftM: Estimate
  readonly notes: readonly string[]
  /** The board's sizes as the marks show them; null: not told with this drop. */
  readonly sizes: PictureSizes | null
}

/** A hand or a weight comes and goes within this, s. */
const BESIDE_DAMAGE_S = 0.1

const DEGREES = 180 / Math.PI

/**
 * Puts a drop together: events, fall times, bounce and the angle curve.
 *
 * @param parts times in s of real time, angles in rad, masses in kg
 * @returns the drop as it is written to `droptest.json`
 */
export function dropFrom(parts: DropParts): Drop {
  const { track, boardEvents: board } = parts
  const weight = { placed: sound(parts.weight.placed, track), released: sound(parts.weight.released, track) }
  return {
    clip: parts.clip,
    massKg: parts.massKg,
    massAtM: parts.massAtM,
    events: { ...weight, tipStart: board.tipStart, grounded: board.grounded },
    measures: {
      fallFromPlacedS: fall(board.grounded, weight.placed),
      fallFromReleasedS: fall(board.grounded, weight.released),
      bounceM: board.bounceM,
      baseShiftM: parts.baseShiftM,
      baseLiftM: NO_LIFT,
    },
    moved: board.moved,
    frames: {
      ptsS: Array.from(track.ptsS, (t) => Number(t.toFixed(6))),
      boardAngleDeg: Array.from(track.angleRad, (a) => (Number.isNaN(a) ? null : Number((a * DEGREES).toFixed(4)))),
    },
    notes: [...parts.notes, ...baseNotes(parts.baseShiftM)],
    ...(parts.sizes === null ? {} : { sizes: parts.sizes }),
  }
}

/** An event of the weight; withheld in damaged pictures and beside them. */
function sound(event: Estimate, { damagedS }: BoardTrack): Estimate {
  return event.kind === 'measured' && isNearDamage(damagedS, event.value, BESIDE_DAMAGE_S)
    ? withheld('damaged', DAMAGED_HERE)
    : event
}

/**
 * The time of a fall, with the uncertainty of both its ends.
 *
 * @param grounded when it landed, s
 * @param from when its clock began, s
 * @returns s; what is missing of either is why it is withheld
 */
export function fall(grounded: Estimate, from: Estimate): Estimate {
  if (grounded.kind !== 'measured') return grounded
  if (from.kind !== 'measured') return from
  return measured(grounded.value - from.value, Math.hypot(grounded.sd, from.sd))
}
