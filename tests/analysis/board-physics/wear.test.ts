import { describe, expect, test } from 'vitest'
import { boardWear, type DatedDrop } from '../../../analysis/board-physics/wear.ts'
import { wearSentence } from '../../../analysis/board-physics/wear-words.ts'
import { measured, withheld } from '../../../analysis/estimate.ts'
import { type Random, seededRandom } from '../../../analysis/numeric/random.ts'

const DAY = 20_000
const not = withheld('not-seen', 'Not here.')

/** Drop tests once a month, two drops each; falls and bounces scatter by drop and by day, and drift. */
function history(random: Random, months: number, driftSPerMonth = 0, massKg = 1): DatedDrop[] {
  return Array.from({ length: months }, (_, month) => {
    const [dayS, dayM] = [0.02 * random.normal(), 0.002 * random.normal()]
    return [0, 1].map((): DatedDrop => ({
      massKg,
      massAtM: 3.2,
      day: DAY + Math.round(30.4375 * month),
      fallFromPlacedS: not,
      fallFromReleasedS: measured(1.9 + driftSPerMonth * month + dayS + 0.02 * random.normal(), 0.008),
      bounceM: measured(0.03 + dayM + 0.002 * random.normal(), 0.001),
    }))
  }).flat()
}

describe('the wear of a board', () => {
  test('is a false alarm in no more than one sound board in twenty', () => {
    const boards = 200
    const alarms = Array.from({ length: boards }, (_, seed) => boardWear(history(seededRandom(seed), 6))).filter(
      (wear) => wear.some(({ drifts }) => drifts),
    )
    // 5 % and three standard deviations of chance.
    expect(alarms.length / boards).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / boards))
  })

  test('is told of boards that fall a twentieth of a second later each month, and by how much', () => {
    const boards = 100
    const falls = Array.from({ length: boards }, (_, seed) => boardWear(history(seededRandom(seed), 8, 0.05))[0]!)
    const holds = falls.filter(
      ({ perMonth }) => perMonth.kind === 'measured' && perMonth.ci95[0] < 0.05 && perMonth.ci95[1] > 0.05,
    )
    expect(falls.filter(({ drifts }) => drifts).length).toBeGreaterThan(95)
    // 95 % less three standard deviations of chance.
    expect(holds.length / boards).toBeGreaterThan(0.95 - 3 * Math.sqrt((0.05 * 0.95) / boards))
    expect(wearSentence(falls[0]!)).toMatch(
      /^The board takes longer, by 0\.0\d\d s a month \(0\.0\d\d to 0\.0\d\d s a month; 16 drops with 1\.00 kg on 8 days\)/,
    )
  })

  test('asks for more drops where there are too few, and is not spoken of on one day', () => {
    const [fall] = boardWear(history(seededRandom(1), 2))
    expect(fall).toMatchObject({ drifts: false, perMonth: { kind: 'withheld', reason: 'too-few' } })
    expect(wearSentence(fall!)).toContain('six drops on four days')
    expect(boardWear(history(seededRandom(1), 1))).toEqual([])
  })

  test('rests on one weight, the one used most, and on drops whose day is known', () => {
    const random = seededRandom(2)
    const undated = history(random, 6).map((drop) => ({ ...drop, day: null }))
    const [fall] = boardWear([...history(random, 2, 0, 2), ...history(random, 5), ...undated])
    expect(fall).toMatchObject({ massKg: 1 })
    expect(fall!.points).toHaveLength(10)
  })
})
