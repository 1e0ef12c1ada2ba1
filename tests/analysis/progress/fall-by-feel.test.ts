import { describe, expect, test } from 'vitest'
import { measured } from '../../../analysis/estimate.ts'
import { fallByFeel } from '../../../analysis/progress/fall-by-feel.ts'
import { checkShow } from '../../../analysis/progress/show-check.ts'
import { ruleSetOf } from '../../../analysis/rules/rule-sets.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { randomBoard, trueFallS, type TrueBoard } from '../../simulated-boards/simulated-board.ts'
import { riddenBoard } from '../../simulated-boards/simulated-ride.ts'
import { BOARDS, inventedSeason, PLAIN_DOG } from './invented-season.ts'

const season = inventedSeason(3, PLAIN_DOG, {
  rides: 24,
  spanDays: 60,
  boardOn: (_, random) => random.pick(BOARDS.slice(0, 2)),
})

describe('the fall of a board that the dog has not been on', () => {
  test('is to the falls that it knows as the feels are', () => {
    const feels = new Map([
      ['board 0', measured(0.45, 0.01)],
      ['board 1', measured(0.55, 0.01)],
      ['show', measured(0.9, 0.02)],
    ])
    const fall = fallByFeel(season, feels, 'show')!
    // The invented boards fall in 0.45 and 0.55 s; their feels were chosen alike.
    expect(Math.abs(fall.fallS - 0.9)).toBeLessThan(2 * fall.sdS)
    expect(fall.sdS / fall.fallS).toBeGreaterThan(0.03)
    expect(fall.sdS / fall.fallS).toBeLessThan(0.06)
  })

  test('is not told where no board that the dog was on has a feel, or the one asked for has none', () => {
    expect(fallByFeel(season, new Map([['show', measured(0.9, 0.02)]]), 'show')).toBeNull()
    expect(fallByFeel(season, new Map([['board 0', measured(0.45, 0.01)]]), 'show')).toBeNull()
  })

  test('goes as the feel in simulated rides, nearer than is said', () => {
    const random = seededRandom(77)
    const feelOf = (board: TrueBoard) => trueFallS(board, 10, board.board.lengthM - board.board.contactM / 2)
    const meanLog = (board: TrueBoard, seed: number) => {
      const logs = riddenBoard(board, 6, seededRandom(seed)).map(({ fallS }) => Math.log(fallS))
      return logs.length === 0 ? NaN : logs.reduce((sum, log) => sum + log, 0) / logs.length
    }
    const errors = Array.from({ length: 25 }, (_, k) => {
      const [one, other] = [randomBoard(random), randomBoard(random)]
      return meanLog(one, k) - meanLog(other, k) - Math.log(feelOf(one) / feelOf(other))
    }).filter(Number.isFinite)
    expect(errors.length).toBeGreaterThan(20)
    expect(Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length)).toBeLessThan(0.04)
  })
})

test('a fall that is not known well leaves the chance of leaving early more open', () => {
  const counts = inventedSeason(4, { ...PLAIN_DOG, slope: 0 }, { rides: 24, spanDays: 60 })
  const widthFor = (fallSdS: number) => {
    const { earlyChance } = checkShow(counts, { board: null, fallS: 0.75, fallSdS, rules: ruleSetOf('uk')! })
    return earlyChance.kind === 'measured' ? earlyChance.ci95[1] - earlyChance.ci95[0] : NaN
  }
  expect(widthFor(0.15)).toBeGreaterThan(widthFor(0) + 0.05)
})
