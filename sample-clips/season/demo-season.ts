import { Random } from '../random.ts'
import { type InventedBoard, type InventedDog, inventedRides, type InventedRide } from './invented-dog.ts'

/** Where and when the invented season takes place. */
const FIRST_DAY = '2026-03-02'
const LAST_DAY = 200

const boards = {
  home: { name: 'Home board', material: 'wood', fallS: 0.62, fallScatterS: 0.02, quirkS: 0 },
  club: { name: 'Club board', material: 'aluminium', fallS: 0.5, fallScatterS: 0.02, quirkS: 0.01 },
  quick: { name: 'Quick board', material: 'aluminium', fallS: 0.36, fallScatterS: 0.015, quirkS: -0.01 },
  slow: { name: 'Old slow board', material: 'wood', fallS: 0.8, fallScatterS: 0.03, quirkS: 0 },
} satisfies Record<string, InventedBoard>

const plain: Omit<InventedDog, 'name' | 'bornOn' | 'massKg' | 'heightM'> = {
  marginS: 0.45,
  usualFallS: 0.57,
  slope: 1,
  holdS: 0.3,
  leadPawAtTipM: 2.55,
  climbSpeedMps: 2.4,
  scatterS: 0.07,
  dayScatterS: 0.03,
  popShare: 0,
  missedDownShare: 0,
  holdPerMonthS: 0,
  marginPerMonthS: 0,
  change: null,
}

/** Dottie holds longer from mid June on; Kestrel counts and leaves early on slow boards; nothing happens to Biscuit. */
const DEMO_DOGS: readonly InventedDog[] = [
  {
    ...plain,
    name: 'Dottie',
    bornOn: '2022-05-20',
    massKg: 14,
    heightM: 0.44,
    holdS: 0.22,
    change: { day: 104, holdS: 0.22, marginS: 0.2 },
  },
  {
    ...plain,
    name: 'Kestrel',
    bornOn: '2021-02-11',
    massKg: 19,
    heightM: 0.52,
    marginS: 0.16,
    slope: 0.1,
    missedDownShare: 0.06,
  },
  { ...plain, name: 'Biscuit', bornOn: '2023-01-08', massKg: 8, heightM: 0.33 },
]

/** The season as a rides file: three dogs, four boards, sixty rides; dogs, people and places are invented. */
export function demoSeason() {
  const random = new Random(20260302)
  const rides = DEMO_DOGS.flatMap((dog) =>
    inventedRides(random.fork(dog.name), dog, planOf(random.fork(`plan ${dog.name}`)), FIRST_DAY),
  )
  return {
    schema: 'tiphold.rides/1',
    invented: 'Every dog, board and ride in this file is invented.',
    dogs: DEMO_DOGS.map(({ name, bornOn, massKg, heightM }) => ({ name, bornOn, massKg, heightM })),
    boards: Object.values(boards).map(({ name, material }) => ({ name, material })),
    rides,
  }
}

/** Twenty rides on twelve days or so, mostly at home and at the club, some at shows. */
function planOf(random: Random): InventedRide[] {
  const days = Array.from({ length: 12 }, (_, k) => Math.round(((k + random.between(0.1, 0.9)) / 12) * LAST_DAY))
  const plan: InventedRide[] = []
  for (const [k, day] of days.entries()) {
    const isShow = k % 4 === 3
    for (let ride = 0; ride < (k % 3 === 2 ? 1 : 2) && plan.length < 20; ride++) {
      const board = isShow
        ? boards.quick
        : random.pick([boards.home, boards.home, boards.club, boards.slow, boards.quick])
      const filmEnds = random.chance(0.1) ? { filmEndsAfterS: random.between(0.3, 0.5) } : {}
      plan.push({ day, board, purpose: isShow ? 'show' : 'training', ...filmEnds })
    }
  }
  return plan
}
