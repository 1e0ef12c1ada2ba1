import { readFileSync } from 'node:fs'
import { Ajv } from 'ajv'
import { describe, expect, test } from 'vitest'
import type { ApproachMeasures } from '../../../analysis/approach/approach.ts'
import type { Board } from '../../../analysis/board/board.ts'
import type { BoardTrack } from '../../../analysis/board/board-track.ts'
import type { ClipInfo } from '../../../analysis/clip/frame.ts'
import type { DogTrack } from '../../../analysis/dog/dog-track.ts'
import { measured, withheld } from '../../../analysis/estimate.ts'
import { findBoardEvents } from '../../../analysis/ride/board-events.ts'
import { rideFrom } from '../../../analysis/ride/measure-ride.ts'
import type { Ride } from '../../../analysis/ride/ride.ts'
import type { BangResult } from '../../../analysis/sound/bang.ts'
import { STEADY_WALK, walkingDog } from './simulated-dog.ts'

const board: Board = { lengthM: 3.6, widthM: 0.3, pivotHeightM: 0.6, contactM: 0.9 }
const clip: ClipInfo = {
  fileName: 'biscuit.mp4',
  sha256: 'a'.repeat(64),
  widthPx: 1280,
  heightPx: 720,
  rotationDeg: 0,
  frameCount: 301,
  durationS: 6,
  captureRateHz: 50,
  slowMotionFactor: 1,
  slowMotionEvidence: 'The file does not say that it is slowed.',
}

const REST_RAD = -0.3
/** The turn that lowers the exit end by 10 mm is 10 mm / (1.8 m cos 0.3); with 0.6 rad in 1 s^2 it takes this long. */
const TIP_AFTER_S = Math.sqrt(0.01 / (1.8 * Math.cos(0.3)) / 0.6)

describe('a dog that walks on, waits at the exit end and leaves after the landing', () => {
  const ride = rideOf(walkingDog())

  test('settles when its lead paw comes within 0.10 m of where it is at the landing', () => {
    // It stops 3.2 m further at 1.5 m/s; the last 0.1 m take 0.067 s.
    const settledS = 1 + 3.2 / 1.5 - 0.1 / 1.5
    expect(ride.events.settled).toMatchObject({ kind: 'measured', value: expect.closeTo(settledS, 2) as number })
    expect(ride.measures.holdBeforeGroundS).toMatchObject({ value: expect.closeTo(3.5 - settledS, 2) as number })
  })

  test('has its lead paw and body where they are when the exit end has sunk by 10 mm', () => {
    const tipS = 2.5 + TIP_AFTER_S
    expect(ride.events.tipStart).toMatchObject({ value: expect.closeTo(tipS, 2) as number })
    expect(ride.measures.leadPawAtTipM).toMatchObject({ value: expect.closeTo(0.2 + 1.5 * (tipS - 1), 1) as number })
    expect(ride.measures.bodyAtTipM).toMatchObject({ value: expect.closeTo(1.5 * (tipS - 1) - 0.25, 1) as number })
    expect(ride.measures.dropTimeS).toMatchObject({ value: expect.closeTo(1 - TIP_AFTER_S, 2) as number })
  })

  test('stays until it leaves: after-ground, and both zones touched', () => {
    expect(ride.measures.stayAfterGroundS).toMatchObject({ value: expect.closeTo(1.5, 2) as number })
    expect(ride.measures.leavingMarginS).toEqual(ride.measures.stayAfterGroundS)
    expect(ride.leaving.verdict).toBe('after-ground')
    expect(ride.zones).toMatchObject({
      up: { verdict: 'touched', first: { value: 1 }, clearanceM: { value: expect.closeTo(-0.7) as number } },
      down: { verdict: 'touched', touchedAfterGround: 'yes', last: { value: 5 } },
    })
  })

  test('climbs at its walking speed, pauses once where it waits and does not turn back', () => {
    expect(ride.measures.climbSpeedMps).toMatchObject({ value: expect.closeTo(1.5, 2) as number })
    expect(ride.measures.pauses).toHaveLength(1)
    expect(ride.measures.pauses[0]).toMatchObject({ bodyM: expect.closeTo(2.95) as number })
    // Speed is taken over 0.2 s, so a pause begins up to half of that late.
    expect(Math.abs(ride.measures.pauses[0]!.fromS - 3.13)).toBeLessThan(0.1)
    expect(ride.measures.turnedBack).toBe(false)
  })

  test('makes a ride file that its published schema accepts, with no NaN in it', () => {
    const file = new URL('../../../main/files/ride.schema.json', import.meta.url)
    const validate = new Ajv({ strict: false }).compile(JSON.parse(readFileSync(file, 'utf8')) as object)
    // JSON turns NaN into null, which the schema allows in frames only.
    expect(validate(JSON.parse(JSON.stringify(ride)))).toBe(true)
    expect(ride.frames.leadPawM[0]).toBeNull()
  })
})

describe('the run up', () => {
  test('is taken as it was measured', () => {
    const approach = {
      entrySpeedMps: measured(3, 0.1),
      entryAngleDeg: measured(4, 2),
      entryOffsetM: withheld('not-clear', 'The camera is too low.'),
    }
    expect(rideOf(walkingDog(), falling(), null, approach).measures).toMatchObject(approach)
  })

  test('is withheld where nobody looked', () => {
    const { entrySpeedMps } = rideOf(walkingDog()).measures
    expect(entrySpeedMps).toMatchObject({ kind: 'withheld', reason: 'not-measured-yet' })
  })
})

describe('leaving', () => {
  test('between tip and landing is before-ground, and the hold is withheld', () => {
    const ride = rideOf(walkingDog({ ...STEADY_WALK, leftS: 3.2 }))
    expect(ride.leaving.verdict).toBe('before-ground')
    expect(ride.measures.leavingMarginS).toMatchObject({ value: expect.closeTo(-0.3, 2) as number })
    expect(ride.measures.holdBeforeGroundS).toMatchObject({ kind: 'withheld', reason: 'left-before' })
  })

  test('before the board begins to tip is before-tip', () => {
    const ride = rideOf(walkingDog({ ...STEADY_WALK, leftS: 2 }), still())
    expect(ride.leaving.verdict).toBe('before-tip')
    expect(ride.events.grounded).toMatchObject({ kind: 'withheld', reason: 'never-tipped' })
    expect(ride.measures.leadPawAtTipM).toMatchObject({ kind: 'withheld', reason: 'never-tipped' })
    expect(ride.zones.down.touchedAfterGround).toBe('no')
  })

  test('within the interval around the landing is too-close', () => {
    expect(rideOf(walkingDog({ ...STEADY_WALK, leftS: 3.51 })).leaving.verdict).toBe('too-close')
  })

  test('after the clip ends gives lower bounds, and no missed zone', () => {
    const detail = 'The dog is still on.'
    const ride = rideOf(
      walkingDog(
        { ...STEADY_WALK, stopM: 2.5, leftS: 6 },
        {
          lastOff: { kind: 'not-seen', reason: 'still-on', detail },
          stillOnAtEnd: true,
        },
      ),
    )
    expect(ride.leaving.verdict).toBe('after-ground')
    expect(ride.events.left).toEqual(withheld('still-on', detail))
    expect(ride.measures.stayAfterGroundS).toMatchObject({ kind: 'atLeast', value: expect.closeTo(2.51, 2) as number })
    expect(ride.measures.leavingMarginS).toMatchObject({ kind: 'atLeast' })
    expect(ride.zones.down).toMatchObject({ verdict: 'unsure', touchedAfterGround: 'unsure' })
  })

  test('long before the board tips means that the dog was lost, for boards do not tip by themselves', () => {
    const ride = rideOf(walkingDog({ ...STEADY_WALK, leftS: 1.8 }))
    expect(ride.events.left).toMatchObject({ kind: 'withheld', reason: 'hidden' })
    expect(ride.leaving.verdict).toBe('not-seen')
    expect(ride.zones.down.verdict).toBe('unsure')
  })
})

describe('the sound of the landing', () => {
  const quiet = rideOf(walkingDog()).events.grounded
  if (quiet.kind !== 'measured') throw new Error('the landing was not seen')

  test('sharpens the seen landing when it is clear and agrees', () => {
    const heard = bang(quiet.value + quiet.sd, quiet.sd)
    const { grounded, bangHeard } = rideOf(walkingDog(), falling(), heard).events
    expect(grounded).toMatchObject({
      value: expect.closeTo(quiet.value + quiet.sd / 2, 6) as number,
      sd: expect.closeTo(quiet.sd / Math.SQRT2, 6) as number,
    })
    expect(bangHeard).toBe(heard.heard)
  })

  test('does not move it when it is unclear or far off', () => {
    expect(rideOf(walkingDog(), falling(), bang(quiet.value + 0.2, 0.005)).events.grounded).toEqual(quiet)
    const unclear = { ...bang(quiet.value + quiet.sd, quiet.sd), clear: false }
    expect(rideOf(walkingDog(), falling(), unclear).events.grounded).toEqual(quiet)
  })
})

describe('what cannot be seen is withheld', () => {
  test('climb speed when the dog was on the plank before the clip', () => {
    const detail = 'The dog is on the plank when the clip begins.'
    const { events, measures, zones } = rideOf(
      walkingDog({ ...STEADY_WALK }, { firstOn: { kind: 'not-seen', reason: 'clip-ends', detail }, footfalls: [] }),
    )
    expect(events.firstOn).toEqual(withheld('clip-ends', detail))
    expect(measures.climbSpeedMps).toMatchObject({ kind: 'withheld', reason: 'not-seen' })
    expect(zones.up).toMatchObject({ verdict: 'unsure', clearanceM: { kind: 'withheld' } })
  })

  test('the lead paw at the tip when it was hidden just then', () => {
    const dog = walkingDog()
    const leadPawM = dog.leadPawM.map((lead, i) => (Math.abs(dog.ptsS[i]! - 2.6) < 0.2 ? NaN : lead))
    const { leadPawAtTipM, bodyAtTipM } = rideOf({ ...dog, leadPawM }).measures
    expect(leadPawAtTipM).toMatchObject({ kind: 'withheld', reason: 'hidden' })
    expect(bodyAtTipM.kind).toBe('measured')
  })
})

function rideOf(
  dog: DogTrack,
  track: BoardTrack = falling(),
  sound: BangResult | null = null,
  approach?: ApproachMeasures,
): Ride {
  return rideFrom({
    track,
    boardEvents: findBoardEvents(track),
    dog,
    sound,
    clip,
    board,
    programVersion: '0.0.0',
    notes: [],
    ...(approach === undefined ? {} : { approach }),
  })
}

function bang(groundedS: number, sdS: number): BangResult {
  return {
    heard: measured(groundedS + 0.02, 0.001),
    groundedFromSound: measured(groundedS, sdS),
    clear: true,
    why: 'The landing was heard.',
  }
}

/** At rest until 2.5 s, 0.6 rad/s2 faster and faster, on the ground from 3.5 s on. */
function falling(): BoardTrack {
  return boardTrack((timeS) => 0.6 * Math.min(1, Math.max(0, timeS - 2.5) ** 2))
}

function still(): BoardTrack {
  return boardTrack(() => 0)
}

function boardTrack(turnRad: (timeS: number) => number): BoardTrack {
  const ptsS = Float64Array.from({ length: 301 }, (_, i) => i / 50)
  return {
    ptsS,
    angleRad: ptsS.map((timeS) => REST_RAD + turnRad(timeS)),
    sdRad: ptsS.map(() => 3e-4),
    seen: new Uint8Array(ptsS.length).fill(1),
    restAngleRad: REST_RAD,
    commonSdRad: 1e-3,
    scaleSd: 0,
    lengthM: board.lengthM,
  }
}
