import { findChange } from '../../analysis/progress/change.ts'
import { reportOf } from '../../analysis/progress/dog-report.ts'
import { dayNumber } from '../../analysis/progress/season.ts'
import { seriesOf } from '../../analysis/progress/series.ts'
import { checkShow } from '../../analysis/progress/show-check.ts'
import { trendOf } from '../../analysis/progress/trend.ts'
import { ruleSetOf } from '../../analysis/rules/rule-sets.ts'
import { waitsOrCounts } from '../../analysis/progress/waits-or-counts.ts'
import { normalCdf } from '../../analysis/numeric/normal.ts'
import type { InventedDog } from '../../sample-clips/season/invented-dog.ts'
import { BOARDS, inventedSeason, PLAIN_DOG, type Plan } from '../analysis/progress/invented-season.ts'

/**
 * How far the statistics of many rides may be believed, by simulation over invented dogs: coverage of intervals, false
 * alarms and power. `npm run bench:progress -- [dogs] [parts]`, for instance `-- 400 trends,waits`.
 */
const dogs = Number(process.argv[2] ?? 200)
const parts = (process.argv[3] ?? 'trends,changes,waits,show,report').split(',')
const FIRST = dayNumber('2026-02-01')!
const share = (count: number, of: number) => (of === 0 ? '   -' : `${((100 * count) / of).toFixed(1)} %`.padStart(7))

if (parts.includes('trends')) {
  console.log('Trend of the hold, s a month: coverage of the 95 % interval, its mean width, called at 5 %')
  for (const [name, dog, plan] of trendCases()) {
    let called = 0
    let covered = 0
    let width = 0
    let significant = 0
    for (let seed = 0; seed < dogs; seed++) {
      const line = trendOf(seriesOf('holdBeforeGroundS', inventedSeason(seed, dog, plan)))
      if (line.kind === 'too-few') continue
      called++
      const [lo, hi] = line.perMonth.ci95
      if (lo <= dog.holdPerMonthS && dog.holdPerMonthS <= hi) covered++
      if (line.p < 0.05) significant++
      width += hi - lo
    }
    console.log(
      `  ${name.padEnd(34)} ${share(covered, called)}  ${(width / called).toFixed(3)}  ${share(significant, called)}`,
    )
  }
}

if (parts.includes('changes')) {
  console.log('Change of the hold: found (p < 0.5 % and < 5 %), its day inside the interval, before and after covered')
  for (const [name, dog, plan] of changeCases()) {
    let found = 0
    let loose = 0
    let inside = 0
    let covered = 0
    for (let seed = 0; seed < dogs; seed++) {
      const series = seriesOf('holdBeforeGroundS', inventedSeason(seed, dog, plan))
      const line = trendOf(series)
      const search = line.kind === 'line' ? findChange(series, line.tamed) : null
      if (search === null || search.p >= 0.05) continue
      loose++
      if (search.p >= 0.005) continue
      found++
      const { ci95, before, after } = search.change
      const day = dog.change === null ? NaN : FIRST + dog.change.day
      if (ci95[0] <= day && day <= ci95[1]) inside++
      const step = after.value - before.value
      if (Math.abs(step - (dog.change?.holdS ?? 0)) < 1.96 * Math.hypot(before.sd, after.sd)) covered++
    }
    console.log(
      `  ${name.padEnd(34)} ${share(found, dogs)} ${share(loose, dogs)}  ${share(inside, found)} ${share(covered, found)}`,
    )
  }
}

if (parts.includes('waits')) {
  console.log('Waits or counts: coverage of the slope, mean width; verdicts waits, between, counts, too-few')
  for (const slope of [0, 0.5, 1]) {
    for (const quirkS of [0, 0.03]) {
      for (const rides of [20, 60]) {
        const dog = { ...PLAIN_DOG, slope, scatterS: 0.08 }
        const verdicts = { waits: 0, between: 0, counts: 0, 'too-few': 0 }
        let covered = 0
        let width = 0
        let told = 0
        for (let seed = 0; seed < dogs; seed++) {
          const quirks = BOARDS.map((board, k) => ({ ...board, quirkS: quirkS * normalOf(seed, k) }))
          const boardOn: Plan['boardOn'] = (_, random) => random.pick(quirks)
          const answer = waitsOrCounts(inventedSeason(seed, dog, { rides, spanDays: 150, boardOn, cutShare: 0.1 }))
          verdicts[answer.verdict]++
          if (answer.slope.kind !== 'measured') continue
          told++
          const [lo, hi] = answer.slope.ci95
          if (lo <= slope && slope <= hi) covered++
          width += hi - lo
        }
        const name = `slope ${slope}, ${rides} rides, quirks ${quirkS} s`
        const counts = Object.values(verdicts)
          .map((n) => share(n, dogs))
          .join(' ')
        console.log(`  ${name.padEnd(34)} ${share(covered, told)}  ${(width / told).toFixed(2)}  ${counts}`)
      }
    }
  }
}

if (parts.includes('show')) {
  console.log(
    'Show check, leaving early: coverage of the true chance, mean chance told and true, width; fine, at risk, cannot tell',
  )
  for (const [name, dog, quirkS] of showCases()) {
    for (const rides of [15, 40]) {
      const verdicts = { 'likely-fine': 0, 'at-risk': 0, 'cannot-tell': 0 }
      let covered = 0
      let missedCovered = 0
      let told = 0
      let truth = 0
      let width = 0
      for (let seed = 0; seed < dogs; seed++) {
        const quirks = BOARDS.map((board, k) => ({ ...board, quirkS: quirkS * normalOf(seed, k) }))
        const boardOn: Plan['boardOn'] = (_, random) => random.pick(quirks)
        const known = seed % 2 === 0
        const season = inventedSeason(seed, dog, { rides, spanDays: 150, boardOn, cutShare: 0.1 })
        const question = known ? { board: 'board 3', fallS: null } : { board: null, fallS: 0.7 }
        const check = checkShow(season, { ...question, rules: ruleSetOf('uk')! })
        verdicts[check.verdict]++
        const chance = chanceOf(dog, known ? 0.8 : 0.7, known ? quirks[3]!.quirkS : quirkS * normalOf(seed, 9))
        if (check.earlyChance.kind !== 'measured' || check.missedDownChance.kind !== 'measured') continue
        const [lo, hi] = check.earlyChance.ci95
        if (lo <= chance && chance <= hi) covered++
        const missed = check.missedDownChance.ci95
        if (missed[0] <= dog.missedDownShare && dog.missedDownShare <= missed[1]) missedCovered++
        told += check.earlyChance.value / dogs
        truth += chance / dogs
        width += (hi - lo) / dogs
      }
      const counts = Object.values(verdicts)
        .map((n) => share(n, dogs))
        .join(' ')
      const figures = `${told.toFixed(3)} ${truth.toFixed(3)}  ${width.toFixed(2)}`
      console.log(
        `  ${`${name}, ${rides} rides`.padEnd(34)} ${share(covered, dogs)}  ${figures}  ${counts}  missed ${share(missedCovered, dogs)}`,
      )
    }
  }
}

if (parts.includes('report')) {
  console.log(
    'Whole reports of dogs to which nothing happens: share with any trend, any change, any of either by board',
  )
  const few = Math.max(20, Math.round(dogs / 4))
  let trend = 0
  let change = 0
  let byBoard = 0
  for (let seed = 0; seed < few; seed++) {
    const rides = inventedSeason(1000 + seed, PLAIN_DOG, { rides: 40, spanDays: 180 })
    const report = reportOf({ dog: 'Wisp', criterion: null, rides })
    const moves = (trends: typeof report.trends) =>
      trends.some(({ verdict }) => verdict === 'rising' || verdict === 'falling')
    const changes = (trends: typeof report.trends) => trends.some((one) => one.change !== null)
    if (moves(report.trends)) trend++
    if (changes(report.trends)) change++
    if (report.byBoard.some((board) => moves(board.trends) || changes(board.trends))) byBoard++
  }
  console.log(`  ${few} dogs, 40 rides each: ${share(trend, few)} ${share(change, few)} ${share(byBoard, few)}`)
}

function trendCases(): readonly (readonly [string, InventedDog, Plan])[] {
  const season = (rides: number): Plan => ({ rides, spanDays: 180 })
  const rising = { ...PLAIN_DOG, holdPerMonthS: 0.06 }
  const switched: Plan = { ...season(40), boardOn: (day) => (day < 90 ? BOARDS[0]! : BOARDS[3]!) }
  return [
    ['nothing, 10 rides', PLAIN_DOG, season(10)],
    ['nothing, 40 rides', PLAIN_DOG, season(40)],
    ['nothing, days differ, 40 rides', { ...PLAIN_DOG, dayScatterS: 0.12 }, season(40)],
    ['nothing, board changed, 40 rides', { ...PLAIN_DOG, slope: 0.2 }, switched],
    ['0.06 s a month, 10 rides', rising, season(10)],
    ['0.06 s a month, 40 rides', rising, season(40)],
  ]
}

function changeCases(): readonly (readonly [string, InventedDog, Plan])[] {
  const season = (rides: number): Plan => ({ rides, spanDays: 180 })
  const stepped = (holdS: number) => ({ ...PLAIN_DOG, change: { day: 80, holdS, marginS: 0 } })
  return [
    ['nothing, 40 rides', PLAIN_DOG, season(40)],
    ['a trend, 0.06 s a month, 40 rides', { ...PLAIN_DOG, holdPerMonthS: 0.06 }, season(40)],
    ['a step of 0.15 s, 40 rides', stepped(0.15), season(40)],
    ['a step of 0.25 s, 40 rides', stepped(0.25), season(40)],
    ['a step of 0.25 s, 20 rides', stepped(0.25), season(20)],
  ]
}

function showCases(): readonly (readonly [string, InventedDog, number])[] {
  return [
    ['waits', { ...PLAIN_DOG, marginS: 0.3, missedDownShare: 0.01 }, 0],
    ['waits, scarcely', { ...PLAIN_DOG, marginS: 0.12 }, 0],
    ['counts', { ...PLAIN_DOG, marginS: 0.25, slope: 0.2 }, 0],
    ['counts, boards differ', { ...PLAIN_DOG, marginS: 0.25, slope: 0.2 }, 0.03],
    ['waits, pops on 1 ride in 10', { ...PLAIN_DOG, marginS: 0.35, popShare: 0.1 }, 0],
  ]
}

/** The true chance of leaving early on a board. */
function chanceOf(dog: InventedDog, fallS: number, quirkS: number): number {
  const marginS = dog.marginS + (dog.slope - 1) * (fallS - dog.usualFallS) + quirkS
  const scatterS = Math.hypot(dog.scatterS, dog.dayScatterS, (dog.slope - 1) * 0.02)
  return (1 - dog.popShare) * normalCdf(-marginS / scatterS) + dog.popShare * normalCdf(0.12 / 0.08)
}

/** A normal number that belongs to a dog and a board. */
function normalOf(seed: number, k: number): number {
  const unit = (salt: number) => {
    const mixed = Math.imul((seed * 31 + k * 977 + salt) ^ 0x9e3779b9, 0x85ebca6b)
    return ((Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35) >>> 0) + 0.5) / 2 ** 32
  }
  return Math.sqrt(-2 * Math.log(unit(1))) * Math.cos(2 * Math.PI * unit(2))
}
