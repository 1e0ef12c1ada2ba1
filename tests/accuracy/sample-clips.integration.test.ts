import { beforeAll, describe, expect, test } from 'vitest'
import { clipsWithTruth, type ClipWithTruth, SAMPLE_FOLDER } from './clips-with-truth.ts'
import type { Compared } from './compare.ts'
import { measuredClip } from './measured-clips.ts'
import { type ClipScore, scoreDrop, scoreRide } from './score.ts'

/*
 * What the program measures of the sample clips against what was drawn: the generator computes its truth from the
 * simulated motion and shares no code with the measuring. The bounds come from what the numbers are for, not from how
 * well they are met today.
 */

/** How far a value may be off, s or m; some in frames of the clip. */
const MOST_OFF: Readonly<Record<string, (frameS: number) => number>> = {
  // Stepping through the clip by hand finds the first frame of a moment: at most a frame late.
  tipStartS: (frameS) => frameS,
  groundedS: (frameS) => frameS,
  // Sound tells when the board struck to a thousandth: 3 ms is a metre of air, the least that its correction must know.
  bangHeardS: () => 0.003,
  // A paw of a middle-sized dog is about 8 cm long (common practice, no source).
  leadPawAtTipM: () => 0.08,
  // A tenth of a dog's length: what a shift of the head moves its centre of mass by (common practice, no source).
  bodyAtTipM: () => 0.1,
  // Handlers tell holds apart in tenths of a second.
  holdBeforeGroundS: () => 0.1,
  leftS: () => 0.1,
  firstOnS: () => 0.1,
  // Rule books let the fall take 2 to 3 s: a twentieth of the second between is 0.05 s.
  fallFromReleasedS: () => 0.05,
  fallFromPlacedS: () => 0.05,
}
/** 0.25 deg moves the end of a 3.66 m plank by 8 mm, less than the 10 mm with which the tip is said to begin. */
const MOST_ANGLE_OFF_DEG = 0.25
/** A wider interval says nothing: half a second and half a metre are what the eye tells without a clip. */
const WIDEST = 0.5

/** Where the 95 % interval is known not to hold the truth. Every entry is a fault of the measuring that is still to be mended. */
const KNOWN_OUTSIDE = new Set([
  // Filmed by hand, and the plank bends under the dog: its end drops before its middle turns.
  'biscuit-slow-board tipStartS',
])

/** What is too wide to say anything, and still to be mended. */
const KNOWN_WIDE = new Set([
  // Neither network is sure when the paws came to rest on this slow board.
  'biscuit-slow-board holdBeforeGroundS',
])

let scores: readonly ClipScore[] = []
beforeAll(async () => {
  const clips = await clipsWithTruth(SAMPLE_FOLDER)
  const out: ClipScore[] = []
  for (const clip of clips) out.push(await scoreOf(clip))
  scores = out
}, 600_000)

async function scoreOf(clip: ClipWithTruth): Promise<ClipScore> {
  const measured = await measuredClip(clip)
  if (measured.kind === 'failed') throw new Error(`${clip.name}: ${measured.detail}`)
  if (measured.kind === 'drops') return scoreDrop(clip.name, clip.truth, measured.drops[0]!)
  return scoreRide(clip.name, clip.truth, measured.rides[0]!.measured)
}

type MeasuredValue = Extract<Compared, { state: 'measured' }>

/** Each value that was measured of each clip. */
function measuredValues(): { what: string; key: string; frameS: number; value: MeasuredValue }[] {
  return scores.flatMap(({ name, frameS, values }) =>
    Object.entries(values).flatMap(([key, value]) =>
      value.state === 'measured' ? [{ what: `${name} ${key}`, key, frameS, value }] : [],
    ),
  )
}

describe('the sample clips', () => {
  test('are five rides and two drop tests, each measured', () => {
    expect(scores.map(({ kind }) => kind).sort()).toEqual(['drop', 'drop', 'ride', 'ride', 'ride', 'ride', 'ride'])
  })

  test('are measured within the bounds', () => {
    const off = measuredValues()
      .filter(({ key, frameS, value }) => Math.abs(value.error) > MOST_OFF[key]!(frameS))
      .map(({ what, value }) => `${what}: off by ${value.error}`)
    expect(off).toEqual([])
  })

  test('have their true values inside the intervals that are given', () => {
    const outside = measuredValues().filter(({ value }) => !value.isInside95)
    expect(outside.map(({ what }) => what).filter((what) => !KNOWN_OUTSIDE.has(what))).toEqual([])
  })

  test('have intervals that say something', () => {
    const wide = measuredValues().filter(({ what, value }) => value.width95 > WIDEST && !KNOWN_WIDE.has(what))
    expect(wide.map(({ what, value }) => `${what}: ${value.width95} wide`)).toEqual([])
  })

  test('have nothing withheld that happened, and nothing given that did not', () => {
    const wrong = scores.flatMap(({ name, values }) =>
      Object.entries(values)
        .filter(([, { state }]) => state === 'withheld' || state === 'invented')
        .map(([key, { state }]) => `${name} ${key} ${state}`),
    )
    expect(wrong).toEqual([])
  })

  test('have a board angle that is right in 95 % of the frames', () => {
    const off = scores.filter(
      ({ angleError95Deg }) => !(angleError95Deg !== null && angleError95Deg < MOST_ANGLE_OFF_DEG),
    )
    expect(off.map(({ name, angleError95Deg }) => `${name}: ${angleError95Deg} deg`)).toEqual([])
  })

  test('have no wrong verdict, and most are given', () => {
    const verdicts = scores.flatMap(({ verdicts }) => Object.values(verdicts))
    expect(verdicts.filter((verdict) => verdict === 'wrong')).toEqual([])
    expect(verdicts.filter((verdict) => verdict === 'right').length / verdicts.length).toBeGreaterThan(0.75)
  })

  test('have most of their footfalls found, and few more than there are', () => {
    const all = scores.flatMap(({ footfalls }) => (footfalls === null ? [] : [footfalls]))
    const sum = (key: 'wanted' | 'given' | 'matched') => all.reduce((total, one) => total + one[key], 0)
    expect(sum('matched') / sum('wanted')).toBeGreaterThan(0.8)
    expect(sum('matched') / sum('given')).toBeGreaterThan(0.8)
  })
})
