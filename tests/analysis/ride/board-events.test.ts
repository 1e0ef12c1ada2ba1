import { describe, expect, test } from 'vitest'
import type { BoardTrack } from '../../../analysis/board/board-track.ts'
import type { Estimate, Measured } from '../../../analysis/estimate.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'
import { median } from '../../../analysis/numeric/robust.ts'
import { dropForTurn, turnForDrop } from '../../../analysis/ride/board-curve.ts'
import { findBoardEvents } from '../../../analysis/ride/board-events.ts'
import { CLEAN_FILMING, filmBoard, randomScene, simulateBoard, type SceneKind } from './simulated-board.ts'

const DEGREE = Math.PI / 180

describe('tip start and landing in seeded simulations', () => {
  const trials = [25, 60, 240].flatMap((rateHz) =>
    (['walking', 'leaping', 'drop'] as const).flatMap((kind) =>
      Array.from({ length: 9 }, (_, n) => trial(kind, rateHz, 31 * n + rateHz)),
    ),
  )
  const tips = trials.flatMap(({ events, truth, rateHz }) => compared(events.tipStart, truth.tipStartS, rateHz))
  const landings = trials.flatMap(({ events, truth, rateHz }) => compared(events.grounded, truth.groundedS, rateHz))

  test('are found in nearly all trials in which they happen, and in no other', () => {
    const happened = (times: (number | null)[]): number => times.filter((time) => time !== null).length
    expect(tips.length).toBeGreaterThanOrEqual(0.95 * happened(trials.map(({ truth }) => truth.tipStartS)))
    expect(landings.length).toBeGreaterThanOrEqual(0.95 * happened(trials.map(({ truth }) => truth.groundedS)))
    const invented = trials.filter(
      ({ events, truth }) => truth.groundedS === null && events.grounded.kind === 'measured',
    )
    expect(invented).toEqual([])
  })

  test('are off by less than a quarter (landing) and half (tip) of a frame in the median', () => {
    expect(median(landings.map(({ offFrames }) => offFrames))).toBeLessThan(0.25)
    expect(median(tips.map(({ offFrames }) => offFrames))).toBeLessThan(0.5)
  })

  // 95 % of 81 is 77; 72 or fewer happen once in 100 such tests.
  test('lie within their 95 % intervals about 95 times in 100', () => {
    for (const found of [tips, landings]) {
      expect(found.filter(({ inside }) => inside).length / found.length).toBeGreaterThan(0.89)
    }
    expect(median(landings.map(({ widthFrames }) => widthFrames))).toBeLessThan(0.8)
    expect(median(tips.map(({ widthFrames }) => widthFrames))).toBeLessThan(3)
  })
})

test('landings at 240 frames a second are timed to half a frame though stamps are off by half a millisecond', () => {
  const landings = Array.from({ length: 16 }, (_, n) => {
    const scene = randomScene('walking', 240 + n)
    const random = seededRandom(240 + n)
    const truth = simulateBoard(scene.board, scene.load, scene.durationS)
    const sharp = filmBoard(scene.board, truth, { ...CLEAN_FILMING, rateHz: 240, noiseRad: 5e-5 }, random)
    // The resting board tells neither of stamps nor of what the picture hides (see sdRad): only a moving one shows them.
    const sdRad = sharp.sdRad.map(() => 3e-4)
    const stamped = { ...sharp, sdRad, ptsS: sharp.ptsS.map((timeS) => timeS + 0.001 * (random.uniform() - 0.5)) }
    return compared(findBoardEvents(stamped).grounded, truth.groundedS, 240)
  }).flat()
  expect(landings).toHaveLength(16)
  expect(Math.max(...landings.map(({ offFrames }) => offFrames))).toBeLessThan(0.5)
  expect(landings.filter(({ inside }) => inside).length).toBeGreaterThanOrEqual(14)
})

describe('a board that is not seen falling as a whole', () => {
  const fall = steadyFall()

  test('that never moves never tipped, and did not move', () => {
    const still = { ...fall, angleRad: fall.angleRad.map(() => fall.restAngleRad) }
    const events = findBoardEvents(still)
    expect(events).toMatchObject({ moved: false, tipStart: { reason: 'never-tipped' } })
    expect(events.grounded).toMatchObject({ kind: 'withheld', reason: 'never-tipped' })
  })

  test('that is hidden while it lands is known to land within a wide interval', () => {
    const hidden = findBoardEvents(without(fall, (timeS) => timeS > 2.3 && timeS < 3)).grounded
    const seen = findBoardEvents(fall).grounded
    expect(Math.abs(valueOf(seen) - 2.5)).toBeLessThan(2 * sdOf(seen))
    expect(Math.abs(valueOf(hidden) - 2.5)).toBeLessThan(2 * sdOf(hidden))
    expect(sdOf(hidden)).toBeGreaterThan(5 * sdOf(seen))
  })

  test('that is still falling when the clip ends: tip measured, landing withheld', () => {
    const events = findBoardEvents(part(fall, 0, 2.2))
    expect(events.tipStart.kind).toBe('measured')
    expect(events.grounded).toMatchObject({ kind: 'withheld', reason: 'clip-ends' })
  })

  test('that is down when the clip begins has neither tip nor landing in it', () => {
    const events = findBoardEvents(part(fall, 2.8, 4))
    expect(events.tipStart).toMatchObject({ kind: 'withheld', reason: 'clip-ends' })
    expect(events.grounded).toMatchObject({ kind: 'withheld', reason: 'clip-ends' })
  })

  test('that is falling when the clip begins has a landing but no tip start in it', () => {
    const events = findBoardEvents(part(fall, 2.1, 4))
    expect(events.tipStart).toMatchObject({ kind: 'withheld', reason: 'clip-ends' })
    expect(valueOf(events.grounded)).toBeCloseTo(2.5, 2)
  })

  test('still coming back from the ride before, is not falling yet', () => {
    const back = fall.ptsS.map((timeS) => Math.max(0, 0.25 - 0.5 * timeS))
    const events = findBoardEvents({ ...fall, angleRad: fall.angleRad.map((angle, i) => angle + back[i]!) })
    expect(valueOf(events.grounded)).toBeCloseTo(2.5, 2)
    expect(valueOf(events.tipStart)).toBeGreaterThan(1.5)
  })

  test('that touches the ground between two frames and flies back up has landed, where the ground must be', () => {
    // 1.2 rad/s2 over 0.64 rad, twice the angle at rest: at 24 frames a second no frame comes nearer to the ground than 14 mrad.
    const contactS = 1.5 + Math.sqrt(0.64 / 1.2)
    const turnRad = (timeS: number): number =>
      timeS < contactS ? 1.2 * Math.max(0, timeS - 1.5) ** 2 : 0.64 - 0.7 * (timeS - contactS)
    const ptsS = Float64Array.from({ length: 62 }, (_, i) => contactS + (i - 50.5) / 24)
    const random = seededRandom(3)
    const angleRad = ptsS.map((timeS) => fall.restAngleRad + turnRad(timeS) + 5e-4 * random.normal())
    const track = { ...fall, ptsS, angleRad, sdRad: ptsS.map(() => 5e-4), seen: new Uint8Array(62).fill(1) }
    const { grounded } = findBoardEvents(track)
    expect(Math.abs(valueOf(grounded) - contactS)).toBeLessThan(2 * sdOf(grounded))
    const steeper = { ...track, angleRad: track.angleRad.map((angle) => angle - 0.06), restAngleRad: -0.38 }
    expect(findBoardEvents(steeper).grounded).toMatchObject({ reason: 'never-landed' })
  })

  test('that is driven into soft ground and thrown back has landed where it first met it, not where it turned', () => {
    // 1.28 rad/s at the contact carry it 0.027 rad, 5 cm at the end, deeper within 40 ms; it comes to lie 0.004 rad deep.
    const dipRad = (sinceS: number): number =>
      0.004 + Math.exp(-sinceS / 0.1) * (0.036 * Math.sin(35 * sinceS) - 0.004 * Math.cos(35 * sinceS))
    for (const rateHz of [30, 60]) {
      const random = seededRandom(rateHz)
      const ptsS = Float64Array.from({ length: 4 * rateHz }, (_, i) => (i + 0.3) / rateHz)
      const angleRad = ptsS.map((timeS) => {
        const turn = timeS < 2.5 ? 0.64 * Math.max(0, timeS - 1.5) ** 2 : 0.64 + dipRad(timeS - 2.5)
        return fall.restAngleRad + turn + 3e-4 * random.normal()
      })
      const seen = new Uint8Array(ptsS.length).fill(1)
      const { grounded } = findBoardEvents({ ...fall, ptsS, angleRad, sdRad: ptsS.map(() => 3e-4), seen })
      expect(Math.abs(valueOf(grounded) - 2.5)).toBeLessThan(0.006)
      expect(Math.abs(valueOf(grounded) - 2.5)).toBeLessThan(2 * sdOf(grounded))
    }
  })

  test('that hovers at the top of a long hop when the clip ends has landed where the hop began', () => {
    // Thrown back with 0.1 rad/s, pulled down with 0.28 rad/s2: at its highest, 0.018 rad, after 0.36 s; the film ends after 0.44 s.
    for (const rateHz of [30, 60]) {
      const random = seededRandom(rateHz)
      const ptsS = Float64Array.from({ length: Math.floor(2.94 * rateHz) }, (_, i) => (i + 0.3) / rateHz)
      const angleRad = ptsS.map((timeS) => {
        const since = timeS - 2.5
        const turn = since < 0 ? 0.64 * Math.max(0, timeS - 1.5) ** 2 : 0.64 - 0.1 * since + 0.14 * since ** 2
        return fall.restAngleRad + turn + 3e-4 * random.normal()
      })
      const seen = new Uint8Array(ptsS.length).fill(1)
      const { grounded } = findBoardEvents({ ...fall, ptsS, angleRad, sdRad: ptsS.map(() => 3e-4), seen })
      expect(Math.abs(valueOf(grounded) - 2.5)).toBeLessThan(0.1 / rateHz)
      expect(Math.abs(valueOf(grounded) - 2.5)).toBeLessThan(2 * sdOf(grounded))
    }
  })

  test('is withheld as hidden when hardly any frame shows it', () => {
    const events = findBoardEvents(without(fall, (timeS) => timeS > 0.03))
    expect(events).toMatchObject({ moved: null, tipStart: { reason: 'hidden' } })
  })
})

describe('drop of the exit end', () => {
  test('of a turn, and the turn of a drop, from the circle the end moves on', () => {
    expect(dropForTurn(0.2, -0.1, 3.6)).toBeCloseTo(3.6 * Math.sin(0.1), 10)
    expect(turnForDrop(0.01, 0, 3.6)).toBeCloseTo(0.00556, 5)
    expect(dropForTurn(turnForDrop(0.01, -0.3, 3.7), -0.3, 3.7)).toBeCloseTo(0.01, 12)
  })
})

function trial(kind: SceneKind, rateHz: number, seed: number) {
  const scene = randomScene(kind, seed)
  const random = seededRandom(seed + 1)
  const truth = simulateBoard(scene.board, scene.load, scene.durationS)
  const filming = {
    ...CLEAN_FILMING,
    rateHz,
    fromS: random.uniform() / rateHz,
    noiseRad: (0.02 + 0.08 * random.uniform()) * DEGREE,
    missing: 0.03,
    wild: 0.01,
    jitter: random.uniform() < 0.3 ? 0.6 : 0,
    shutter: 0.5 * random.uniform(),
    scale: 0.01 * random.normal(),
    scaleSd: 0.01,
  }
  return { rateHz, truth, events: findBoardEvents(filmBoard(scene.board, truth, filming, random)) }
}

function compared(estimate: Estimate, truthS: number | null, rateHz: number) {
  if (estimate.kind !== 'measured' || truthS === null) return []
  const [low, high] = estimate.ci95
  return [
    {
      offFrames: Math.abs(estimate.value - truthS) * rateHz,
      inside: low <= truthS && truthS <= high,
      widthFrames: (high - low) * rateHz,
    },
  ]
}

function valueOf(estimate: Estimate): number {
  return asMeasured(estimate).value
}

function sdOf(estimate: Estimate): number {
  return asMeasured(estimate).sd
}

function asMeasured(estimate: Estimate): Measured {
  if (estimate.kind !== 'measured') throw new Error(`not measured: ${JSON.stringify(estimate)}`)
  return estimate
}

/** At rest until 1.5 s, evenly faster until the ground at 2.5 s, lying there after; 50 frames a second. */
function steadyFall(): BoardTrack {
  const random = seededRandom(5)
  const restAngleRad = -0.32
  const ptsS = Float64Array.from({ length: 201 }, (_, i) => i / 50)
  return {
    ptsS,
    angleRad: ptsS.map((timeS) => {
      const turn = 0.64 * Math.min(1, Math.max(0, timeS - 1.5) ** 2)
      return restAngleRad + turn + 5e-4 * random.normal()
    }),
    sdRad: ptsS.map(() => 5e-4),
    seen: new Uint8Array(ptsS.length).fill(1),
    restAngleRad,
    commonSdRad: 1e-3,
    scaleSd: 0,
    lengthM: 3.66,
  }
}

function part(track: BoardTrack, fromS: number, toS: number): BoardTrack {
  const keep = <T>(values: ArrayLike<T>): T[] =>
    Array.from(values).filter((_, i) => track.ptsS[i]! >= fromS && track.ptsS[i]! <= toS)
  return {
    ...track,
    ptsS: Float64Array.from(keep(track.ptsS)),
    angleRad: Float64Array.from(keep(track.angleRad)),
    sdRad: Float64Array.from(keep(track.sdRad)),
    seen: Uint8Array.from(keep(track.seen)),
  }
}

function without(track: BoardTrack, isHidden: (timeS: number) => boolean): BoardTrack {
  const blank = (values: Float64Array): Float64Array => values.map((v, i) => (isHidden(track.ptsS[i]!) ? NaN : v))
  return {
    ...track,
    angleRad: blank(track.angleRad),
    sdRad: blank(track.sdRad),
    seen: track.seen.map((seen, i) => (isHidden(track.ptsS[i]!) ? 0 : seen)),
  }
}

describe('with damaged pictures', () => {
  const scene = randomScene('walking', 60)
  const truth = simulateBoard(scene.board, scene.load, scene.durationS)
  const sound = filmBoard(scene.board, truth, { ...CLEAN_FILMING, rateHz: 60 }, seededRandom(60))
  const damaged = (fromS: number, toS: number): BoardTrack => {
    const isIn = (timeS: number) => timeS > fromS && timeS < toS
    return {
      ...sound,
      angleRad: sound.angleRad.map((angle, i) => (isIn(sound.ptsS[i]!) ? NaN : angle)),
      seen: sound.seen.map((seen, i) => (isIn(sound.ptsS[i]!) ? 0 : seen)),
      damagedS: [{ fromS, toS }],
    }
  }

  test('a landing in them is withheld, and the tip before them stands', () => {
    const events = findBoardEvents(damaged(truth.groundedS! - 0.15, truth.groundedS! + 0.2))
    expect(events.grounded).toMatchObject({ kind: 'withheld', reason: 'damaged' })
    expect(events.bounceM).toMatchObject({ kind: 'withheld', reason: 'damaged' })
    expect(events.tipStart.kind).toBe('measured')
  })

  test('a tip in them is withheld', () => {
    const events = findBoardEvents(damaged(truth.tipStartS! - 0.2, truth.tipStartS! + 0.1))
    expect(events.tipStart).toMatchObject({ kind: 'withheld', reason: 'damaged' })
  })

  test('that lie elsewhere nothing changes', () => {
    const without = findBoardEvents({ ...damaged(0.1, 0.3), damagedS: [] })
    expect(findBoardEvents(damaged(0.1, 0.3))).toEqual(without)
    expect(without.grounded.kind).toBe('measured')
  })
})
