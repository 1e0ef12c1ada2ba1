import jStat from 'jstat'
import { describe, expect, test } from 'vitest'
import { mixtureEstimate, mixtureQuantile } from '../../../analysis/numeric/mixture.ts'
import { betaDraw, gammaDraw, logGamma } from '../../../analysis/numeric/gamma.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { truncatedNormalDraw } from '../../../analysis/numeric/truncated-normal.ts'
import { findChange } from '../../../analysis/progress/change.ts'
import { believable } from '../../../analysis/progress/discoveries.ts'
import { fitCensored } from '../../../analysis/progress/impute.ts'
import { contrastOf, fitSeason } from '../../../analysis/progress/season-fit.ts'
import { dayText } from '../../../analysis/progress/season.ts'
import type { Series } from '../../../analysis/progress/series.ts'
import { tameOutliers } from '../../../analysis/progress/tame-outliers.ts'
import { missedChances } from '../../../analysis/progress/zone-chance.ts'

/** NIST StRD, linear regression, data set Norris: y, x (itl.nist.gov/div898/strd/lls/data/Norris.shtml, from memory). */
const NORRIS = [
  [0.1, 0.2],
  [338.8, 337.4],
  [118.1, 118.2],
  [888.0, 884.6],
  [9.2, 10.1],
  [228.1, 226.5],
  [668.5, 666.3],
  [998.5, 996.3],
  [449.1, 448.6],
  [778.9, 777.0],
  [559.2, 558.2],
  [0.3, 0.4],
  [0.1, 0.6],
  [778.1, 775.5],
  [668.8, 666.9],
  [339.3, 338.0],
  [448.9, 447.5],
  [10.8, 11.6],
  [557.7, 556.0],
  [228.3, 228.1],
  [998.0, 995.8],
  [888.8, 887.6],
  [119.6, 120.2],
  [0.3, 0.3],
  [0.6, 0.3],
  [557.6, 556.8],
  [339.3, 339.1],
  [888.0, 887.2],
  [998.5, 999.0],
  [778.9, 779.0],
  [10.2, 11.1],
  [117.6, 118.3],
  [228.9, 229.2],
  [668.4, 669.1],
  [449.2, 448.9],
  [0.2, 0.5],
] as const

/** Annual flow of the Nile at Aswan, 1871 to 1970, 10^8 m^3 (Cobb, Biometrika 1978, 65:243; from memory). */
const NILE = [
  1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958, 1140, 1100,
  1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020, 1050, 969, 831, 726, 456,
  824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040, 759, 781, 865, 845, 944, 984, 897,
  822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890, 744, 749, 838, 1050, 918, 986, 797, 923, 975,
  815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740,
]

describe('a straight line', () => {
  const x = NORRIS.map(([, value]) => value)
  const y = NORRIS.map(([value]) => value)
  const alone = { ySd: y.map(() => 0), dayIndex: y.map((_, i) => i) }

  test('has the slope and the standard error that NIST certifies', () => {
    // B1 = 1.00211681802045, its sd 0.429796848199937E-03; Student's t with 34 degrees of freedom for the interval.
    const fit = fitSeason({ y, rows: x.map((value) => [1, value / 1000]), columnCount: 2, ...alone })!
    const slope = mixtureEstimate(contrastOf(fit, [0, 1]))
    expect(slope.value / 1000).toBeCloseTo(1.00211681802045, 5)
    const half = jStat.studentt.inv(0.975, 34) * 0.429796848199937
    expect((slope.ci95[1] - slope.ci95[0]) / 2 / half).toBeCloseTo(1, 1)
  })

  test('is not bent by wild rides', () => {
    const wild = y.map((value, i) => (i === 3 || i === 7 ? value + 400 : value))
    const rows = x.map((value) => [1, value / 1000])
    const fit = fitSeason({ y: tameOutliers(wild, alone.ySd, rows), rows, columnCount: 2, ...alone })!
    expect(mixtureEstimate(contrastOf(fit, [0, 1])).value / 1000).toBeCloseTo(1.002, 2)
  })
})

describe('values known from below', () => {
  test('give back the mean of the normal numbers that were cut off', () => {
    const random = seededRandom(4)
    const all = Array.from({ length: 400 }, () => 2 + random.normal())
    const isBound = all.map((value) => value > 2.3)
    const y = all.map((value) => Math.min(value, 2.3))
    const model = {
      y,
      isBound,
      ySd: y.map(() => 0),
      rows: y.map(() => [1]),
      columnCount: 1,
      dayIndex: y.map((_, i) => i),
    }
    const mean = mixtureEstimate(contrastOf(fitCensored(model, random)!.fit, [1]))
    // Without chance the maximum-likelihood estimate of a censored normal mean is 2; its sd is about 0.055.
    expect(Math.abs(mean.value - 2)).toBeLessThan(3 * 0.055)
    expect(mean.ci95[0]).toBeLessThan(2)
    expect(mean.ci95[1]).toBeGreaterThan(2)
    expect(mean.sd).toBeGreaterThan(1 / Math.sqrt(400))
  })

  test('a truncated normal number has the mean of the textbook', () => {
    const random = seededRandom(1)
    const draws = Array.from({ length: 20000 }, () => truncatedNormalDraw(random, 0, 1, 1, Infinity))
    // Density at 1 over the upper tail: 0.24197 / 0.15866.
    expect(draws.reduce((sum, draw) => sum + draw, 0) / draws.length).toBeCloseTo(0.24197 / 0.15866, 1)
    expect(Math.min(...draws)).toBeGreaterThanOrEqual(1)
    expect(truncatedNormalDraw(random, 0, 1, 30, Infinity)).toBeGreaterThan(30)
  })
})

test('the flow of the Nile changed after 1898, as has been found again and again', () => {
  const days = NILE.map((_, k) => 1871 + k)
  const none = NILE.map(() => 0)
  const series: Series = {
    measure: 'flow',
    rideIndex: [...NILE.keys()],
    day: days,
    dayIndex: [...NILE.keys()],
    value: NILE,
    sd: none,
    isBound: NILE.map(() => false),
    boardIndex: none,
    boardCount: 1,
  }
  const search = findChange(series, NILE)!
  expect(search.p).toBeLessThan(0.001)
  expect(search.change.day).toBe(1899)
  // Means of 1871-1898 and 1899-1970: 1097.8 and 850.0.
  expect(search.change.before.value / 1097.75).toBeCloseTo(1, 1)
  expect(search.change.after.value / 849.97).toBeCloseTo(1, 1)
  expect(search.change.ci95[0]).toBeGreaterThan(1890)
  expect(search.change.ci95[1]).toBeLessThan(1905)
})

test('of the fifteen p values of Benjamini and Hochberg the first four are believed at 5 %', () => {
  // J R Stat Soc B 1995, 57:289, section 4.1.
  const p = [
    0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528, 0.759, 1,
  ]
  expect(believable(p, 0.05).filter(Boolean)).toHaveLength(4)
})

describe('against a statistics library', () => {
  test.each([0.1, 0.5, 1, 3.7, 25, 400])('ln gamma(%d)', (x) => {
    expect(logGamma(x)).toBeCloseTo(jStat.gammaln(x), 8)
  })

  test('quantiles of one normal distribution', () => {
    expect(mixtureQuantile([{ weight: 1, mean: 3, sd: 2 }], 0.9)).toBeCloseTo(jStat.normal.inv(0.9, 3, 2), 6)
  })

  test('gamma and beta numbers lie below their quartiles in a quarter of the draws', () => {
    const random = seededRandom(9)
    const below = (draw: () => number, limit: number) => {
      let count = 0
      for (let k = 0; k < 8000; k++) if (draw() < limit) count++
      return count / 8000
    }
    expect(below(() => gammaDraw(random, 0.4), jStat.gamma.inv(0.25, 0.4, 1))).toBeCloseTo(0.25, 1)
    expect(below(() => gammaDraw(random, 6), jStat.gamma.inv(0.25, 6, 1))).toBeCloseTo(0.25, 1)
    expect(below(() => betaDraw(random, 2, 5), jStat.beta.inv(0.25, 2, 5))).toBeCloseTo(0.25, 1)
  })

  test('contacts missed on one board: near Jeffreys’ posterior for all rides together', () => {
    const chances = missedChances([{ missed: 3, of: 40 }], 0, seededRandom(2)).sort((a, b) => a - b)
    expect(chances[chances.length / 2]).toBeCloseTo(jStat.beta.inv(0.5, 3.5, 37.5), 1)
    expect(chances[Math.round(0.975 * chances.length)]).toBeCloseTo(jStat.beta.inv(0.975, 3.5, 37.5), 1)
  })
})

test('a day number is told as its calendar day', () => {
  expect(dayText(Date.UTC(2026, 4, 14) / 86_400_000)).toBe('2026-05-14')
})
