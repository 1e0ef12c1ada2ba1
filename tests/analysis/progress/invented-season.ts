import type { SeasonRide } from '../../../analysis/progress/season.ts'
import { dogOfRides, parseRides } from '../../../main/outputs/progress/rides-file.ts'
import { Random } from '../../../sample-clips/random.ts'
import {
  type InventedBoard,
  type InventedDog,
  type InventedRide,
  inventedRides,
} from '../../../sample-clips/season/invented-dog.ts'

/** A dog to which nothing happens, for stories to be written into. */
export const PLAIN_DOG: InventedDog = {
  name: 'Wisp',
  bornOn: '2022-01-01',
  massKg: 15,
  heightM: 0.45,
  marginS: 0.25,
  usualFallS: 0.6,
  slope: 1,
  holdS: 0.5,
  leadPawAtTipM: 2.5,
  climbSpeedMps: 2.4,
  scatterS: 0.1,
  dayScatterS: 0.04,
  popShare: 0,
  missedDownShare: 0.1,
  holdPerMonthS: 0,
  marginPerMonthS: 0,
  change: null,
}

export const BOARDS: readonly InventedBoard[] = [0.45, 0.55, 0.65, 0.8].map((fallS, k) => ({
  name: `board ${k}`,
  material: 'wood',
  fallS,
  fallScatterS: 0.02,
  quirkS: 0,
}))

export interface Plan {
  readonly rides: number
  readonly spanDays: number
  /** Share of films that end 0.1 to 0.5 s after the landing. */
  readonly cutShare?: number
  /** The board of a ride; any of the four when absent. */
  readonly boardOn?: (day: number, random: Random) => InventedBoard
}

/** A season of an invented dog, through the file format; one to three rides a day. */
export function inventedSeason(seed: number, dog: InventedDog, plan: Plan): readonly SeasonRide[] {
  const random = new Random(seed)
  const days: number[] = []
  while (days.length < plan.rides) {
    const day = random.integer(0, plan.spanDays - 1)
    for (let k = random.integer(1, 3); k > 0 && days.length < plan.rides; k--) days.push(day)
  }
  days.sort((a, b) => a - b)
  const list = days.map((day): InventedRide => {
    const board = plan.boardOn?.(day, random) ?? random.pick(BOARDS)
    const cut = random.chance(plan.cutShare ?? 0) ? { filmEndsAfterS: random.between(0.1, 0.5) } : {}
    return { day, board, purpose: random.chance(0.2) ? 'show' : 'training', ...cut }
  })
  const file = { schema: 'tiphold.rides/1', rides: inventedRides(random, dog, list, '2026-02-01') }
  const parsed = parseRides(file, 'invented')
  if (!parsed.ok) throw new Error(parsed.message)
  const found = dogOfRides(parsed.value, dog.name)
  if (!found.ok) throw new Error(found.message)
  return found.value.season.rides
}
