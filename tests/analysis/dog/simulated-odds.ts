import type { PawOdds } from '../../../analysis/dog/paw-odds.ts'
import { COLUMNS, FROM_ALONG_M, PITCH_M, STEP_S } from '../../../analysis/dog/paw-picture.ts'

export interface TruePaw {
  readonly limb: 'front' | 'hind'
  readonly alongM: number
  readonly fromS: number
  readonly toS: number
  /** Highest probability that the network gives it; 0.95 if absent. */
  readonly odds?: number
}

/** Maps as a good network would draw them: a bump of 25 mm for each standing paw, lead and body where they are told. */
export function oddsOf(
  paws: readonly TruePaw[],
  durationS: number,
  leadM: (atS: number) => number,
  bodyM: (atS: number) => number,
  stayS: readonly [number, number] = [Math.min(...paws.map((p) => p.fromS)), Math.max(...paws.map((p) => p.toS))],
): PawOdds {
  const steps = Math.round(durationS / STEP_S) + 1
  const map = () => new Float32Array(steps * COLUMNS)
  const [front, hind, lead, body] = [map(), map(), map(), map()]
  const on = new Float32Array(steps)
  for (let step = 0; step < steps; step++) {
    const atS = step * STEP_S
    for (const paw of paws) {
      const height = share(atS, paw.fromS, paw.toS) * (paw.odds ?? 0.95)
      bump(paw.limb === 'front' ? front : hind, step, paw.alongM, height)
    }
    on[step] = share(atS, ...stayS)
    place(lead, step, leadM(atS))
    place(body, step, bodyM(atS))
  }
  return { fromS: 0, steps, front, hind, lead, body, on }
}

/** 1 between two times, soft by a step at both. */
function share(atS: number, fromS: number, toS: number): number {
  return Math.min(1, Math.max(0, (atS - fromS) / STEP_S + 0.5), Math.max(0, (toS - atS) / STEP_S + 0.5))
}

function bump(map: Float32Array, step: number, alongM: number, height: number): void {
  for (let column = 0; column < COLUMNS; column++) {
    const off = (FROM_ALONG_M + (column + 0.5) * PITCH_M - alongM) / 0.025
    const at = step * COLUMNS + column
    map[at] = Math.max(map[at]!, height * Math.exp(-0.5 * off * off))
  }
}

function place(map: Float32Array, step: number, alongM: number): void {
  bump(map, step, alongM, 1)
  const row = map.subarray(step * COLUMNS, (step + 1) * COLUMNS)
  const sum = row.reduce((total, p) => total + p, 0)
  for (let column = 0; column < COLUMNS; column++) row[column] = sum > 0 ? row[column]! / sum : 1 / COLUMNS
}
