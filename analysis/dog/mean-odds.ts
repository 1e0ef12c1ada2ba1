import type { PawOdds } from './paw-odds.ts'

const MAPS = ['front', 'hind', 'lead', 'body', 'on'] as const

/**
 * What several networks make of one picture, each believed alike: where they disagree the odds are no longer certain,
 * and the doubt goes on into instants, places and verdicts.
 *
 * @param looks at least one, all of the same steps
 * @returns maps of the same steps, each value the mean probability
 */
export function meanOdds(looks: readonly PawOdds[]): PawOdds {
  const [first, ...others] = looks
  if (first === undefined) throw new RangeError('No look to take the mean of.')
  const out = { ...first }
  for (const map of MAPS) {
    const mean = Float32Array.from(first[map])
    for (const other of others) for (let i = 0; i < mean.length; i++) mean[i]! += other[map][i]!
    for (let i = 0; i < mean.length; i++) mean[i]! /= looks.length
    out[map] = mean
  }
  return out
}
