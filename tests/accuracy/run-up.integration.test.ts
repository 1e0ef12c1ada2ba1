import { expect, test } from 'vitest'
import type { Estimate } from '../../analysis/estimate.ts'
import { clipsWithTruth, SAMPLE_FOLDER } from './clips-with-truth.ts'
import { measuredClip } from './measured-clips.ts'
import { runUpOf, type TruthOfRunUp } from './run-up-truth.ts'

test('the run up of the sample ride is told, and its intervals hold the truth of the generator', async () => {
  const clip = (await clipsWithTruth(SAMPLE_FOLDER)).find(({ name }) => name === 'wren-hold')!
  const outcome = await measuredClip(clip)
  if (outcome.kind !== 'rides') throw new Error(outcome.kind)
  const { entrySpeedMps, entryAngleDeg, entryOffsetM, strideM } = outcome.rides[0]!.measured.measures
  const truth = runUpOf(clip.truth as unknown as TruthOfRunUp)
  const told: readonly (readonly [Estimate | undefined, number])[] = [
    [entrySpeedMps, truth.speedMps],
    [entryAngleDeg, truth.angleDeg],
    [entryOffsetM, truth.offsetM],
    [strideM, truth.strideM],
  ]
  for (const [estimate, wanted] of told) {
    if (estimate?.kind !== 'measured') throw new Error(JSON.stringify(estimate))
    expect(estimate.ci95[0]).toBeLessThan(wanted)
    expect(estimate.ci95[1]).toBeGreaterThan(wanted)
  }
})
