import { expect, test } from 'vitest'
import { damagedClipsTrial } from './damaged-clips-trial.ts'
import { fullDiskTrial } from './full-disk.ts'
import { hostilePacksTrial } from './hostile-packs-trial.ts'
import { hostileRequestsTrial } from './hostile-requests.ts'
import { killsTrial } from './kills.ts'
import { trialLine } from './trial.ts'
import { twoProgramsTrial } from './two-programs.ts'

// A few of each; `npm run trials` does them in numbers.

test('a program that is killed again and again loses nothing but the change in flight', async () => {
  const { faults, counts } = await killsTrial(3)
  expect(faults).toEqual([])
  expect(counts['acknowledged changes']).toBeGreaterThan(3)
})

test('no hostile request gets in, breaks the host or leaves it hanging', async () => {
  const { faults, counts } = await hostileRequestsTrial()
  expect(faults).toEqual([])
  expect(counts['requests']).toBeGreaterThanOrEqual(275)
})

test('no pack or reply that was made to harm does anything but show', async () => {
  const { faults, counts } = await hostilePacksTrial(60)
  expect(faults).toEqual([])
  expect(counts['packs']).toBe(60)
  expect(counts['packs refused']).toBeGreaterThan(40)
  expect(counts['replies refused']).toBeGreaterThan(10)
})

test('of two programs that open one library at once one gets it', async () => {
  expect((await twoProgramsTrial(1)).faults).toEqual([])
})

test('what was kept before and after the disk was full is kept', async (context) => {
  const { faults, skipped } = await fullDiskTrial(1)
  context.skip(skipped !== null, skipped ?? '')
  expect(faults).toEqual([])
})

test('no damaged clip is measured wrong without a word', async () => {
  const { faults, counts } = await damagedClipsTrial(2)
  expect(faults).toEqual([])
  expect(counts['copies']).toBe(2)
})

test('a trial that finds a fault says so', () => {
  const found = { name: 'kills', counts: { kills: 2 }, faults: ['ride 1 is gone'], skipped: null }
  expect(trialLine(found)).toBe('kills: 2 kills, 1 WRONG')
  expect(trialLine({ ...found, faults: [] })).toBe('kills: 2 kills, nothing wrong')
})
