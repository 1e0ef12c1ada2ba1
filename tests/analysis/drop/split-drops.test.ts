import { describe, expect, test } from 'vitest'
import type { BoardTrack } from '../../../analysis/board/board-track.ts'
import { splitDrops, trackWithin } from '../../../analysis/drop/split-drops.ts'
import { findBoardEvents } from '../../../analysis/ride/board-events.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { simulateBoard, type SimulatedBoard } from '../ride/simulated-board.ts'

const board: SimulatedBoard = {
  lengthM: 3.66,
  inertiaKgM2: 15,
  biasNm: 8,
  viscousNms: 2,
  coulombNm: 0.5,
  restitution: 0.2,
  restRad: -0.3166,
  groundRad: 0.3166,
}

/** A kilogram lies in the down contact during the given stretches; pressed down by hand that hard otherwise. */
function filmed(on: readonly (readonly [number, number])[], untilS: number, push: (timeS: number) => number = () => 0) {
  const isOn = (timeS: number) => on.some(([from, to]) => timeS >= from && timeS < to)
  const load = { massKg: 1, alongM: () => 3.2, press: (timeS: number) => (isOn(timeS) ? 1 : push(timeS)) }
  const motion = simulateBoard(board, load, untilS)
  const random = seededRandom(5)
  const count = Math.floor(untilS * 30)
  const ptsS = Float64Array.from({ length: count }, (_, k) => k / 30)
  const track: BoardTrack = {
    ptsS,
    angleRad: ptsS.map((timeS) => motion.angleRad[Math.round(timeS / motion.stepS)]! + 0.0005 * random.normal()),
    sdRad: new Float64Array(count).fill(0.0005),
    seen: new Uint8Array(count).fill(1),
    restAngleRad: board.restRad,
    commonSdRad: 0.001,
    scaleSd: 0.002,
    lengthM: board.lengthM,
  }
  return { track, motion }
}

describe('a clip of drops', () => {
  test('with two is parted while the board rests between them, and each fall is timed in its part', () => {
    const { track, motion } = filmed(
      [
        [1, 5],
        [10, 14],
      ],
      18,
    )
    const spans = splitDrops(track)
    expect(spans).toHaveLength(2)
    expect(spans[0]!.to).toBe(spans[1]!.from)
    const cutS = track.ptsS[spans[1]!.from]!
    expect(cutS).toBeGreaterThan(5)
    expect(cutS).toBeLessThan(10)
    const grounded = spans.map((span) => findBoardEvents(trackWithin(track, span)).grounded)
    const fallS = motion.groundedS! - 1
    for (const [k, onS] of [1, 10].entries()) {
      const landed = grounded[k]!
      if (landed.kind !== 'measured') throw new Error('no landing')
      expect(Math.abs(landed.value - onS - fallS)).toBeLessThan(0.01)
    }
  })

  test('with one drop and a hand that pushes the plank a little beforehand stays whole', () => {
    const dip = (timeS: number) => (timeS > 1 && timeS < 1.25 ? 3 : 0)
    const { track, motion } = filmed([[4, 9]], 9, dip)
    expect(Math.max(...motion.angleRad.subarray(0, 4 * 4000))).toBeGreaterThan(board.restRad + 0.03)
    expect(splitDrops(track)).toEqual([{ from: 0, to: track.ptsS.length }])
  })

  test('in which the board never moves is one part', () => {
    const { track } = filmed([], 4)
    expect(splitDrops(track)).toEqual([{ from: 0, to: track.ptsS.length }])
  })
})
