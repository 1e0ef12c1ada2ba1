import type { Random } from '../random.ts'

/** A board of an invented club. */
export interface InventedBoard {
  readonly name: string
  readonly material: string
  /** Tip to landing under this dog, s, and its scatter from ride to ride. */
  readonly fallS: number
  readonly fallScatterS: number
  /** What the dog does on it beside what the fall asks for, s. */
  readonly quirkS: number
}

/** How an invented dog rides, and what happens to it over the season. Times in s, places in m along the plank. */
export interface InventedDog {
  readonly name: string
  readonly bornOn: string
  readonly massKg: number
  readonly heightM: number
  /** Leaving after the tip is `marginS + usualFallS + slope * (fall - usualFallS)`: slope 1 waits, 0 counts. */
  readonly marginS: number
  readonly usualFallS: number
  readonly slope: number
  readonly holdS: number
  readonly leadPawAtTipM: number
  readonly climbSpeedMps: number
  /** Scatter of margin and hold from ride to ride and from day to day. */
  readonly scatterS: number
  readonly dayScatterS: number
  /** Share of rides on which it pops, whatever the board does. */
  readonly popShare: number
  readonly missedDownShare: number
  /** Change of the hold and of the margin a month, and on one day of the season. */
  readonly holdPerMonthS: number
  readonly marginPerMonthS: number
  readonly change: { readonly day: number; readonly holdS: number; readonly marginS: number } | null
}

/** When and where it was filmed; the day counts from the first of the season. */
export interface InventedRide {
  readonly day: number
  readonly board: InventedBoard
  readonly purpose: 'training' | 'show'
  /** The film ends this long after the landing, s; absent: late enough. */
  readonly filmEndsAfterS?: number
}

const DAYS_PER_MONTH = 30.4375
const LENGTH_M = 3.66
const CONTACT_M = 0.914

/** A measured value with its error, as a ride file states it. */
function told(random: Random, truth: number, sd: number, decimals = 4) {
  return measured(truth + sd * random.normal(), sd, decimals)
}

function measured(value: number, sd: number, decimals = 4) {
  const round = (x: number) => Number(x.toFixed(decimals))
  return {
    kind: 'measured',
    value: round(value),
    sd: round(sd),
    ci95: [round(value - 1.96 * sd), round(value + 1.96 * sd)],
  }
}

function withheld(reason: string, detail: string) {
  return { kind: 'withheld', reason, detail }
}

/**
 * The rides of an invented dog as a rides file holds them.
 *
 * @param random where chance comes from
 * @param dog how it rides
 * @param plan its rides, in order of their days
 * @param firstDay of the season, as in `2026-03-01`
 */
export function inventedRides(random: Random, dog: InventedDog, plan: readonly InventedRide[], firstDay: string) {
  const dayEffects = new Map<number, number>()
  return plan.map((ride) => {
    if (!dayEffects.has(ride.day)) dayEffects.set(ride.day, dog.dayScatterS * random.normal())
    const text = new Date(Date.parse(`${firstDay}T00:00:00Z`) + ride.day * 86_400_000).toISOString().slice(0, 10)
    return {
      dog: dog.name,
      board: ride.board.name,
      day: text,
      purpose: ride.purpose,
      byHand: false,
      ...inventedRide(random, dog, ride, dayEffects.get(ride.day)!),
    }
  })
}

/** What the film of one ride shows. */
function inventedRide(random: Random, dog: InventedDog, ride: InventedRide, dayEffectS: number) {
  const { board } = ride
  const months = ride.day / DAYS_PER_MONTH
  const after = dog.change !== null && ride.day >= dog.change.day
  const fallS = Math.max(0.15, board.fallS + board.fallScatterS * random.normal())
  const rideEffectS = dog.scatterS * random.normal()
  const asksS = (dog.slope - 1) * (fallS - dog.usualFallS)
  const usualS =
    dog.marginS +
    asksS +
    board.quirkS +
    dog.marginPerMonthS * months +
    (after ? dog.change.marginS : 0) +
    dayEffectS +
    rideEffectS
  const pops = random.unit() < dog.popShare
  const marginS = Math.max(0.05 - fallS, pops ? -0.12 + 0.08 * random.normal() : usualS)
  const holdTrend = dog.holdPerMonthS * months + (after ? dog.change.holdS : 0)
  const holdS = Math.max(0.02, dog.holdS + holdTrend + 0.7 * dayEffectS + 0.7 * dog.scatterS * random.normal())
  const timeSd = 0.003 + 0.006 * random.unit()
  const tipS = 2 + 0.3 * random.normal()
  const events = {
    firstOn: told(random, tipS - 1.1 + 0.05 * random.normal(), 3 * timeSd),
    tipStart: told(random, tipS, timeSd),
    grounded: told(random, tipS + fallS, timeSd),
    left: told(random, tipS + fallS + marginS, 1.5 * timeSd),
  }
  const between = (from: { value: number; sd: number }, to: { value: number; sd: number }) =>
    measured(to.value - from.value, Math.hypot(from.sd, to.sd))
  const ends = ride.filmEndsAfterS
  const isStillOn = ends !== undefined && marginS > ends
  const margin = between(events.grounded, events.left)
  const atLeast = { kind: 'atLeast', value: ends ?? 0 }
  const verdict =
    isStillOn || margin.ci95[0]! > 0 ? 'after-ground' : margin.ci95[1]! < 0 ? 'before-ground' : 'too-close'
  const missesDown = random.unit() < dog.missedDownShare
  const stillOn = withheld('still-on', 'The dog is still on when the clip ends.')
  return {
    events: { ...events, left: isStillOn ? stillOn : events.left },
    measures: {
      leadPawAtTipM: told(random, dog.leadPawAtTipM + 0.06 * random.normal(), 0.015),
      bodyAtTipM: told(random, dog.leadPawAtTipM - 0.35 + 0.06 * random.normal(), 0.03),
      dropTimeS: between(events.tipStart, events.grounded),
      holdBeforeGroundS:
        marginS < 0
          ? withheld('left-before', 'The dog left before the board landed.')
          : told(random, Math.min(holdS, fallS + 0.9), 0.012),
      stayAfterGroundS: isStillOn ? atLeast : margin,
      leavingMarginS: isStillOn ? atLeast : margin,
      climbSpeedMps: told(random, dog.climbSpeedMps + 0.2 * random.normal(), 0.08),
    },
    zones: {
      up: { verdict: 'touched', clearanceM: told(random, -0.4 + 0.1 * random.normal(), 0.02) },
      down: {
        verdict: missesDown ? 'missed' : 'touched',
        clearanceM: told(random, missesDown ? 0.12 : -0.5 * CONTACT_M + 0.1 * random.normal(), 0.02),
        touchedAfterGround: missesDown || marginS < 0 ? 'no' : 'yes',
      },
    },
    leaving: { verdict },
    plankLengthM: LENGTH_M,
  }
}
