/**
 * `npm run bench:approach -- DIR [N]`: draws invented rides that come from aside into DIR until there are N (a minute or
 * two each), measures every ride with truth in DIR, and says how right the run up is and how often its intervals hold.
 */
import { existsSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Estimate } from '../../analysis/estimate.ts'
import { writeClip } from '../../sample-clips/files/write-clip.ts'
import { clipsWithTruth } from '../accuracy/clips-with-truth.ts'
import { measuredClip } from '../accuracy/measured-clips.ts'
import { approachScenario } from './approach-scenarios.ts'
import { type RunUp, runUpOf, type TruthOfRunUp } from '../accuracy/run-up-truth.ts'

const SEED = 72
/** Digits after the point, and how many of the unit go into one SI unit. */
const TOLD = {
  speedMps: ['entrySpeedMps', 2, 1, 'm/s'],
  angleDeg: ['entryAngleDeg', 1, 1, 'deg'],
  offsetM: ['entryOffsetM', 1, 100, 'cm'],
  strideM: ['strideM', 1, 100, 'cm'],
} as const satisfies Readonly<Record<keyof RunUp, unknown>>

interface Told {
  readonly error: number
  readonly half: number
  readonly sds: number
}

const [folder, count = '0'] = process.argv.slice(2)
if (folder === undefined) throw new Error('Give a folder for the clips.')
for (let number = 1; number <= Number(count); number++) {
  const scenario = approachScenario(SEED, number)
  // The marks are written before the film, the film is closed last.
  if (existsSync(join(folder, `${scenario.name}.mp4`))) continue
  await writeClip(scenario, folder, { preset: 'veryfast' })
}
const all: Record<keyof RunUp, (Told | null)[]> = { speedMps: [], angleDeg: [], offsetM: [], strideM: [] }
for (const clip of await clipsWithTruth(folder)) {
  const truth = JSON.parse(await readFile(clip.clipPath.replace(/\.\w+$/, '.truth.json'), 'utf8')) as TruthOfRunUp & {
    readonly kind: string
  }
  if (truth.kind !== 'ride') continue
  const outcome = await measuredClip(clip)
  if (outcome.kind !== 'rides') continue
  const measures: Readonly<Record<string, unknown>> = { ...outcome.rides[0]!.measured.measures }
  const runUp = runUpOf(truth)
  const words = Object.entries(TOLD).map(([key, [name, digits, scale, unit]]) => {
    const estimate = measures[name] as Estimate
    const wanted = runUp[key as keyof RunUp]
    if (Number.isNaN(wanted)) return `${name} has no truth`
    if (estimate.kind !== 'measured') {
      all[key as keyof RunUp].push(null)
      return `${name} ${estimate.kind === 'withheld' ? estimate.reason : estimate.kind}`
    }
    const [lo, hi] = estimate.ci95
    const error = scale * (estimate.value - wanted)
    all[key as keyof RunUp].push({ error, half: (scale * (hi - lo)) / 2, sds: (estimate.value - wanted) / estimate.sd })
    const isInside = wanted > lo && wanted < hi
    const told = [scale * estimate.value, (scale * (hi - lo)) / 2, scale * wanted].map((value) => value.toFixed(digits))
    return `${name} ${told[0]} ± ${told[1]} (true ${told[2]} ${unit})${isInside ? '' : ' !'}`
  })
  console.log(`${clip.name}: ${words.join(', ')}`)
}
for (const [key, [name, digits, , unit]] of Object.entries(TOLD)) {
  const list = all[key as keyof RunUp]
  const told = list.flatMap((one) => (one === null ? [] : [one]))
  const at = (values: readonly number[], share: number) =>
    [...values].sort((a, b) => a - b)[Math.ceil(share * values.length) - 1]?.toFixed(digits) ?? '-'
  const errors = told.map(({ error }) => Math.abs(error))
  const inside = told.filter(({ sds }) => Math.abs(sds) < 1.96).length
  const far = told.filter(({ sds }) => Math.abs(sds) > 3.92).length
  console.log(
    `${name}: told in ${told.length} of ${list.length}; median error ${at(errors, 0.5)}, 95 % ${at(errors, 0.95)} ${unit}; ` +
      `half-width ${at(
        told.map(({ half }) => half),
        0.5,
      )}; inside ${inside}, beyond twice ${far}`,
  )
}
