import { describe, expect, test } from 'vitest'
import { disagreement, repeatSentences } from '../../../analysis/board-physics/repeat-words.ts'
import {
  meanFall,
  repeatedDrops,
  scatterOfFallsS,
  type TimedDrop,
} from '../../../analysis/board-physics/repeated-drops.ts'
import { measured, type Measured } from '../../../analysis/estimate.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'

const drop = (releasedS: number, sdS = 0.01, massKg = 1): TimedDrop => ({
  massKg,
  massAtM: 3.2,
  fallFromPlacedS: measured(releasedS + 0.4, sdS),
  fallFromReleasedS: measured(releasedS, sdS),
})

function widthOf(mean: ReturnType<typeof meanFall>): number {
  if (mean.kind !== 'measured') throw new Error('no mean')
  return (mean.ci95[1] - mean.ci95[0]) / 2
}

describe('the mean of several drops', () => {
  test('of thirty that scatter far beyond their own intervals has the interval of Student’s t', () => {
    const random = seededRandom(3)
    const falls = Array.from({ length: 30 }, () => measured(2 + 0.06 * random.normal(), 0.001))
    const mean = falls.reduce((sum, { value }) => sum + value, 0) / 30
    const variance = falls.reduce((sum, { value }) => sum + (value - mean) ** 2, 0) / 29
    // 2.045 is the two-sided 95 % point of Student's t with 29 degrees of freedom (any statistical table).
    const student = 2.045 * Math.sqrt(variance / 30)
    expect(widthOf(meanFall(falls)) / student).toBeGreaterThan(0.9)
    expect(widthOf(meanFall(falls)) / student).toBeLessThan(1.1)
  })

  test.each([
    [2, 0],
    [2, 0.03],
    [3, 0.06],
    [5, 0.03],
  ])('of %i drops that scatter by %f s holds the true mean as often as it says', (count, scatterS) => {
    const random = seededRandom(count)
    const rounds = 300
    let inside = 0
    for (let round = 0; round < rounds; round++) {
      const falls: Measured[] = Array.from({ length: count }, () =>
        measured(2.3 + Math.hypot(scatterS, 0.012) * random.normal(), 0.012),
      )
      const mean = meanFall(falls)
      if (mean.kind === 'measured' && mean.ci95[0] < 2.3 && mean.ci95[1] > 2.3) inside++
    }
    // 95 % but for three standard deviations of chance; wider than it says is no fault of two drops.
    expect(inside / rounds).toBeGreaterThan(0.91)
  })

  test('of a single drop is not given', () => {
    expect(meanFall([measured(2, 0.01)])).toMatchObject({ kind: 'withheld', reason: 'too-few' })
  })
})

describe('how far drops scatter', () => {
  test('is the excess over their own intervals: with equal ones the variance between less the variance within', () => {
    const falls = [1.9, 2, 2.1, 2.3]
    const mean = 2.075
    const between = falls.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 3
    expect(scatterOfFallsS(falls.map((value) => drop(value, 0.05)))).toBeCloseTo(Math.sqrt(between - 0.05 ** 2), 9)
  })

  test('is 0 where they agree, and other weights say nothing', () => {
    expect(scatterOfFallsS([drop(2), drop(2.005)])).toBe(0)
    expect(scatterOfFallsS([drop(2), drop(1.2, 0.01, 2)])).toBe(0)
  })
})

describe('drops done alike', () => {
  const uk = { massKg: 1, massAtM: 3.2, timedFrom: 'placed', handS: 0.4, leastS: 2, mostS: 3 } as const

  test('are told together by weight', () => {
    const repeats = repeatedDrops([drop(1.9), drop(1.4, 0.01, 2), drop(2), drop(1.95)])
    expect(repeats.map(({ massKg, drops }) => [massKg, drops])).toEqual([[1, 3]])
    expect(repeatSentences(repeats[0]!).join(' ')).toMatch(
      /3 drops with 1\.00 kg: from letting go to the landing 1\.95 s ± 0\.\d\d on average, the single drops between 1\.90 and 2\.00 s\./,
    )
    expect(disagreement({ repeats, test: uk })).toBeNull()
  })

  test('that lie on both sides of a limit say so, and those further apart than the window too', () => {
    expect(disagreement({ repeats: repeatedDrops([drop(1.5), drop(1.8)]), test: uk })).toMatch(/^Some of the single/)
    expect(disagreement({ repeats: repeatedDrops([drop(1.5), drop(2.7)]), test: uk })).toMatch(
      /^The single drops differ by 1\.20 s, more than the whole window/,
    )
  })
})
