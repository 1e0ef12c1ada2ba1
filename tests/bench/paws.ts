/**
 * `npm run bench:paws -- DIR`: how right paws, their events and verdicts are on clips that `paw-data.ts --filmed --kept
 * DIR` kept, by whose body crosses and where. Following such a clip takes a minute and a half, this a second.
 */
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { openPawNetwork } from '../../main/measuring/network/open-paw-network.ts'
import type { Compared } from '../accuracy/compare.ts'
import { type RideScore, type RideValue, scoreRide } from '../accuracy/score.ts'
import { keptRide } from '../training/kept-ride.ts'
import { type KeptFilm, readKept } from '../training/kept-film.ts'

const VALUES: readonly (readonly [RideValue, number, string])[] = [
  ['firstOnS', 1000, 'ms'],
  ['leadPawAtTipM', 100, 'cm'],
  ['holdBeforeGroundS', 1000, 'ms'],
  ['leftS', 1000, 'ms'],
]

interface Scored {
  readonly kept: KeptFilm
  /** null: no dog was found. */
  readonly score: RideScore | null
}

const [folder] = process.argv.slice(2)
if (folder === undefined) throw new Error('Give the folder that paw-data.ts --kept wrote.')
const network = await openPawNetwork()
const scored: Scored[] = []
for (const file of readdirSync(folder).filter((name) => name.endsWith('.v8'))) {
  const kept = readKept(join(folder, file))
  const odds = []
  for (const { picture } of kept.stretches) odds.push(await network.look(picture))
  const ride = keptRide(kept, odds)
  scored.push({ kept, score: ride === null ? null : scoreRide(kept.name, kept.truth, ride) })
}
tell('all', scored)
for (const body of new Set(scored.map(({ kept }) => kept.body)))
  tell(
    body,
    scored.filter(({ kept }) => kept.body === body),
  )
for (const isAway of [false, true])
  tell(
    isAway ? 'surroundings left out' : 'other surroundings',
    scored.filter(({ kept }) => /evening|matting/.test(kept.surroundings) === isAway),
  )

function tell(what: string, some: readonly Scored[]): void {
  const scores = some.flatMap(({ score }) => (score === null ? [] : [score]))
  console.log(`${what}: ${some.length} clips, ${some.length - scores.length} without a dog found`)
  for (const [key, scale, unit] of VALUES)
    console.log(
      `  ${key.padEnd(18)} ${inWords(
        scores.map(({ values }) => values[key]),
        scale,
        unit,
      )}`,
    )
  const feet = scores.flatMap(({ footfalls }) => (footfalls === null ? [] : [footfalls]))
  const sum = (key: 'wanted' | 'given' | 'matched') => feet.reduce((total, one) => total + one[key], 0)
  console.log(
    `  footfalls          ${sum('matched')} of ${sum('wanted')} found, ${sum('given') - sum('matched')} others`,
  )
  const verdicts = scores.flatMap((score) => Object.values(score.verdicts))
  const count = (verdict: string) => verdicts.filter((one) => one === verdict).length
  console.log(`  verdicts           ${count('right')} right, ${count('unsure')} unsure, ${count('wrong')} wrong`)
}

function inWords(all: readonly Compared[], scale: number, unit: string): string {
  const measured = all.flatMap((one) => (one.state === 'measured' ? [one] : []))
  const errors = measured.map(({ error }) => Math.abs(error)).sort((a, b) => a - b)
  const at = (share: number) => (scale * (errors[Math.ceil(share * errors.length) - 1] ?? NaN)).toFixed(1)
  const halves = measured.map(({ width95 }) => width95 / 2).sort((a, b) => a - b)
  const inside = measured.filter((one) => one.isInside95).length
  const far = measured.filter(({ error, width95 }) => Math.abs(error) > width95).length
  const withheld = all.filter(({ state }) => state === 'withheld').length
  return (
    `median ${at(0.5)}, 95 % ${at(0.95)} ${unit}; ${inside} of ${measured.length} inside the interval ` +
    `(half ${(scale * (halves[halves.length >> 1] ?? NaN)).toFixed(1)}), ${far} beyond twice it, ${withheld} withheld`
  )
}
