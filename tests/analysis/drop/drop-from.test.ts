import { describe, expect, test } from 'vitest'
import type { BoardTrack } from '../../../analysis/board/board-track.ts'
import { dropFrom } from '../../../analysis/drop/drop-from.ts'
import { findBoardEvents } from '../../../analysis/ride/board-events.ts'
import { measured, withheld } from '../../../analysis/estimate.ts'

const placed = measured(0.6, 0.02)
const released = measured(0.9, 0.02)
const unseen = withheld('not-seen', 'The weight was not seen being set on the plank.')

describe('a weight that tips the board', () => {
  const drop = dropOf((timeS) => 0.6 * Math.min(1, Math.max(0, (timeS - 1) / 2) ** 2))

  test('falls from placing and from letting go to the landing, with both errors in the interval', () => {
    const { grounded } = drop.events
    if (grounded.kind !== 'measured') throw new Error('the landing was not seen')
    expect(grounded.value).toBeCloseTo(3, 2)
    expect(drop.measures.fallFromPlacedS).toEqual(measured(grounded.value - 0.6, Math.hypot(grounded.sd, 0.02)))
    expect(drop.measures.fallFromReleasedS).toEqual(measured(grounded.value - 0.9, Math.hypot(grounded.sd, 0.02)))
    expect(drop.moved).toBe(true)
  })

  test('has a landing but no fall time when the hand was not seen', () => {
    const blind = dropOf((timeS) => 0.6 * Math.min(1, Math.max(0, (timeS - 1) / 2) ** 2), unseen)
    expect(blind.events.grounded.kind).toBe('measured')
    expect(blind.measures.fallFromReleasedS).toEqual(unseen)
    expect(blind.measures.fallFromPlacedS.kind).toBe('measured')
  })
})

test('a weight too light to tip the board gives moved = false and no fall time', () => {
  const drop = dropOf(() => 0)
  expect(drop.moved).toBe(false)
  expect(drop.measures.fallFromPlacedS).toMatchObject({ kind: 'withheld', reason: 'never-tipped' })
  expect(drop.frames.boardAngleDeg[0]).toBeCloseTo((-0.3 * 180) / Math.PI, 4)
})

test('frames in which the board was not followed have null for their angle', () => {
  expect(dropOf((timeS) => (timeS === 0 ? NaN : 0)).frames.boardAngleDeg[0]).toBeNull()
})

function dropOf(turnRad: (timeS: number) => number, hand = released as typeof released | typeof unseen) {
  const ptsS = Float64Array.from({ length: 251 }, (_, i) => i / 50)
  const track: BoardTrack = {
    ptsS,
    angleRad: ptsS.map((timeS) => -0.3 + turnRad(timeS)),
    sdRad: ptsS.map(() => 3e-4),
    seen: Uint8Array.from(ptsS, (timeS) => (Number.isNaN(turnRad(timeS)) ? 0 : 1)),
    restAngleRad: -0.3,
    commonSdRad: 1e-3,
    scaleSd: 0,
    lengthM: 3.6,
  }
  return dropFrom({
    clip: 'drop.mp4',
    massKg: 1,
    massAtM: 3.15,
    track,
    boardEvents: findBoardEvents(track),
    weight: { placed, released: hand },
    baseShiftM: measured(0, 0.002),
    notes: [],
    sizes: null,
  })
}
