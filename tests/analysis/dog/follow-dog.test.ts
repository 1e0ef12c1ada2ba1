import { expect, test } from 'vitest'
import { followDog } from '../../../analysis/dog/follow-dog.ts'
import type { PlankFilm } from '../../../analysis/dog/plank-film.ts'
import { stripGrid } from '../../../analysis/dog/strip-grid.ts'
import { oddsOf, type TruePaw } from './simulated-odds.ts'

const LENGTH_M = 3.66

/** A film of 30 frames a second whose camera looks straight on, so that nothing is shifted across the plank. */
function film(durationS: number, farShiftM: readonly [number, number] = [0, 0]): PlankFilm {
  const frames = Math.round(durationS * 30) + 1
  const grid = stripGrid(LENGTH_M, 0.02, 0.35)
  const strip = { ptsS: 0, angleRad: 0, deviation: new Uint8Array(grid.columns * grid.rows) }
  return {
    ptsS: Float64Array.from({ length: frames }, (_, k) => k / 30),
    grid,
    strips: Array.from({ length: frames }, () => strip),
    outlines: Array.from({ length: frames }, () => ({
      farTopM: [0.03, 0.03] as const,
      farShiftM,
      bottomM: [-0.04, -0.04] as const,
    })),
    lengthM: LENGTH_M,
  }
}

/** A dog that walks up at 1 m/s from 0.5 s on, a front paw each 0.25 s, hind paws in their prints 0.4 s later. */
function walk(fromS: number, steps = 12): TruePaw[] {
  return Array.from({ length: steps }, (_, i) => [
    { limb: 'front' as const, alongM: 0.2 + 0.28 * i, fromS: fromS + 0.25 * i, toS: fromS + 0.25 * i + 0.3 },
    { limb: 'hind' as const, alongM: 0.2 + 0.28 * i, fromS: fromS + 0.25 * i + 0.4, toS: fromS + 0.25 * i + 0.7 },
  ]).flat()
}

const leadOfWalk = (fromS: number) => (atS: number) => 0.2 + 0.28 * Math.floor(Math.max(0, atS - fromS) / 0.25)
/** Runs up at 4 m/s, sets its first paw down at 0.2 m and goes on as in the walk. */
const comingFrom = (fromS: number) => (atS: number) => (atS < fromS ? 0.2 - 4 * (fromS - atS) : leadOfWalk(fromS)(atS))

const track = (paws: readonly TruePaw[], durationS: number, made = film(durationS)) =>
  followDog(
    made,
    oddsOf(paws, durationS, comingFrom(0.5), (t) => 0.1 + (t - 0.5)),
  )

test('one crossing gives one track with every footfall, first touch and last', () => {
  const dogs = track(walk(0.5), 5)
  expect(dogs).toHaveLength(1)
  const dog = dogs[0]!
  expect(dog.footfalls).toHaveLength(24)
  expect(dog.firstOn.kind === 'seen' && Math.abs(dog.firstOn.atS - 0.5) < 0.01).toBe(true)
  expect(dog.lastOff.kind === 'seen' && Math.abs(dog.lastOff.atS - 3.95) < 0.01).toBe(true)
  expect(dog.onAtStart || dog.stillOnAtEnd).toBe(false)
})

test('the clip ends while a paw stands: the dog is still on', () => {
  const [dog] = track(walk(0.5), 3.5)
  expect(dog!.stillOnAtEnd).toBe(true)
  expect(dog!.lastOff).toMatchObject({ kind: 'not-seen', reason: 'still-on' })
})

test('two crossings far apart are two tracks', () => {
  expect(track([...walk(0.5), ...walk(6)], 10)).toHaveLength(2)
})

test('a lone touch, and paws that appear from nowhere beyond the pivot, are no crossing', () => {
  expect(track([{ limb: 'front', alongM: 1, fromS: 1, toS: 1.3 }], 4)).toEqual([])
  const beyond = walk(1, 3).map((p) => ({ ...p, alongM: p.alongM + 2.3 }))
  expect(track(beyond, 4)).toEqual([])
})

test('paws stand in the middle of the plank unless known better: half of what the far edge is shifted is taken off', () => {
  const [dog] = track(walk(0.5), 5, film(5, [0.1, 0.1]))
  const [first] = dog!.footfalls
  expect(first!.alongM).toBeCloseTo(0.15, 2)
  expect(first!.alongSdM).toBeGreaterThan(0.02)
})

test('the network takes the dog to be on the plank before the first touch that was seen: the interval holds both', () => {
  const unseen = walk(0.5).filter((_, i) => i !== 0)
  const seenS = Math.min(...unseen.map((p) => p.fromS))
  const [dog] = followDog(
    film(5),
    oddsOf(unseen, 5, comingFrom(0.5), (t) => 0.1 + (t - 0.5), [0.5, 3.95]),
  )
  expect(dog!.firstOn.kind).toBe('seen')
  if (dog!.firstOn.kind !== 'seen') return
  const { atS, sdS } = dog!.firstOn
  expect(atS).toBeGreaterThan(0.5)
  expect(atS).toBeLessThan(seenS)
  expect(atS - 2 * sdS).toBeLessThan(0.5)
  expect(atS + 2 * sdS).toBeGreaterThan(seenS)
})

test('last touch and the network half a second apart: the leaving is withheld and says why', () => {
  const [dog] = followDog(
    film(6),
    oddsOf(walk(0.5), 6, comingFrom(0.5), (t) => 0.1 + (t - 0.5), [0.5, 3.5]),
  )
  expect(dog!.lastOff).toMatchObject({ kind: 'not-seen', reason: 'hidden' })
})

test('the clip ends as the dog leaves: neither still on nor off', () => {
  const odds = oddsOf(walk(0.5), 4.1, comingFrom(0.5), (t) => 0.1 + (t - 0.5))
  odds.on.fill(0.3, odds.steps - 6)
  expect(followDog(film(4.1), odds)[0]!.lastOff).toMatchObject({ kind: 'not-seen', reason: 'clip-ends' })
  odds.on.fill(0.8, odds.steps - 6)
  expect(followDog(film(4.1), odds)[0]!.lastOff).toMatchObject({ kind: 'not-seen', reason: 'still-on' })
})

test('a front paw that clearly stands is never behind the lead paw', () => {
  const paws = walk(0.5)
  const [dog] = followDog(
    film(5),
    oddsOf(
      paws,
      5,
      () => 0.2,
      (t) => t,
    ),
  )
  const k = dog!.ptsS.findIndex((t) => t >= 2.1)
  const foremost = Math.max(
    ...paws.filter((p) => p.limb === 'front' && p.fromS <= 2.1 && p.toS >= 2.1).map((p) => p.alongM),
  )
  expect(dog!.leadPawM[k]!).toBeGreaterThan(foremost - 0.03)
})

test('what stands two metres behind the body is not a paw of the dog', () => {
  const late: TruePaw = { limb: 'front', alongM: 0.1, fromS: 3, toS: 4.4 }
  const [dog] = followDog(
    film(5),
    oddsOf([...walk(0.5), late], 5, comingFrom(0.5), (t) => 0.1 + (t - 0.5), [0.5, 3.95]),
  )
  expect(dog!.footfalls).toHaveLength(24)
  expect(dog!.lastOff.kind === 'seen' && Math.abs(dog!.lastOff.atS - 3.95) < 0.01).toBe(true)
})

test('the entry end outside the picture withholds the first touch with what to do', () => {
  const made = film(5)
  const deviation = new Uint8Array(made.grid.columns * made.grid.rows).fill(255)
  const blind = { ...made, strips: made.strips.map(() => ({ ptsS: 0, angleRad: 0, deviation })) }
  const [dog] = track(walk(0.5), 5, blind)
  expect(dog!.firstOn).toMatchObject({ kind: 'not-seen', reason: 'out-of-picture' })
})
