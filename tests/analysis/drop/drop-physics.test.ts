import { expect, test } from 'vitest'
import { withPhysics } from '../../../analysis/drop/drop-physics.ts'
import type { Drop } from '../../../analysis/drop/drop-test.ts'
import { measured, withheld, type Estimate } from '../../../analysis/estimate.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { filmedDrop, type TrueBoard } from '../../simulated-boards/simulated-board.ts'

/** The simulation's own integrator moves this board; the hand is off at 1.4 s or later, as the drop's truth tells. */
const truth: TrueBoard = {
  board: { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.914 },
  plankKg: 13.4,
  inertiaKgM2: 15,
  biasTorqueNm: 8,
  coulombNm: 0.5,
  viscousNms: 2,
  restRad: -0.3166,
  groundRad: 0.3166,
}

function dropOf(massKg: number, released?: (seen: Estimate) => Estimate): Drop {
  const filmed = filmedDrop(truth, massKg, 3.203, { rateHz: 25, noiseDeg: 0.03, eventSdS: 0 }, seededRandom(massKg))
  const { events } = filmed
  const unknown = withheld('not-seen', 'Not needed here.')
  return {
    ...filmed,
    clip: `${massKg}.mp4`,
    events: { ...events, released: released === undefined ? events.released : released(events.released) },
    measures: { fallFromPlacedS: unknown, fallFromReleasedS: unknown, bounceM: unknown },
    notes: [],
  }
}

const valueOf = (estimate: Estimate) => (estimate.kind === 'measured' ? estimate.value : NaN)

test('a letting go that the picture times 30 ms early is put right by the board, and the fall with it', () => {
  const trueS = valueOf(dropOf(1).events.released)
  const early = (seen: Estimate) => measured(valueOf(seen) - 0.03, 0.025)
  const { drops, physics } = withPhysics([dropOf(1, early), dropOf(2, early)], truth.board)
  const [first] = drops
  expect(Math.abs(valueOf(first!.events.released) - trueS)).toBeLessThan(0.012)
  const { grounded, released } = first!.events
  expect(valueOf(first!.measures.fallFromReleasedS)).toBeCloseTo(valueOf(grounded) - valueOf(released), 9)
  expect(physics.inertiaKgM2.kind).toBe('measured')
})

test('a hand that was seen to leave half a second before the board moved is believed: something else held it', () => {
  const early = (seen: Estimate) => measured(valueOf(seen) - 0.5, 0.02)
  const drop = dropOf(1, early)
  expect(withPhysics([drop], truth.board).drops[0]!.events.released).toEqual(drop.events.released)
})
