import { z } from 'zod'
import type { Estimate } from '../../../analysis/estimate.ts'
import type { Season, SeasonRide } from '../../../analysis/progress/season.ts'
import { dayNumber } from '../../../analysis/progress/season.ts'
import { readJsonFile } from '../../files/json-file.ts'
import { parsedAs, type Parsed } from '../../files/parsed.ts'
import { type FiledRide, ridesFormat, type RidesFile } from './rides-format.ts'

/** Some 10,000 rides. */
const maxBytes = 64_000_000

/** A rides file as it was read: checked for computing, and as it stood, so that fields unknown to us are kept. */
export interface Rides {
  readonly path: string
  readonly checked: RidesFile
  readonly asFiled: FiledAsIs
}

/** The parts of the file that are handed on as they are. */
interface FiledAsIs {
  readonly dogs?: readonly { readonly name: string }[] | null
  readonly boards?: readonly { readonly name: string; readonly feelS?: Estimate }[] | null
  readonly rides: readonly Readonly<Record<string, unknown>>[]
}

/** Reads a `tiphold.rides/1` file; the message of a bad one is a single line. */
export async function readRidesFile(path: string): Promise<Parsed<Rides>> {
  const json = await readJsonFile(path, maxBytes)
  return json.ok ? parseRides(json.value, path) : json
}

/** Checks a value read from `file` (its name, for messages). */
export function parseRides(value: unknown, file: string): Parsed<Rides> {
  const read = parsedAs(ridesFormat, value, file)
  return read.ok ? { ok: true, value: { path: file, checked: read.value, asFiled: value as FiledAsIs } } : read
}

/** One dog out of a rides file: its season, and a rides file with nobody else in it. */
export interface DogOfRides {
  readonly season: Season
  /** Rides in the order of `season.rides`; unknown fields kept. */
  readonly file: { readonly schema: 'tiphold.rides/1' } & FiledAsIs
  /** Boards of the file by name, as they are spelt. */
  readonly boards: readonly string[]
}

/** Finds a dog by its name, upper and lower case alike. */
export function dogOfRides({ path, checked, asFiled }: Rides, dog: string): Parsed<DogOfRides> {
  const names = [
    ...new Set([...(checked.dogs ?? []).map(({ name }) => name), ...checked.rides.map((ride) => ride.dog)]),
  ]
  const found = nameLike(names, dog)
  if (found === null) {
    const known = names.length === 0 ? 'no dogs' : names.slice(0, 12).join(', ') + (names.length > 12 ? ', ...' : '')
    return { ok: false, message: `${path}: has no dog named "${dog}"; it has ${known}` }
  }
  const places = [...checked.rides.keys()].filter((k) => checked.rides[k]!.dog === found)
  const rides = places.map((k, index) => seasonRide(checked.rides[k]!, asFiled.rides[k]?.['measures'], index))
  const criterion = checked.dogs?.find(({ name }) => name === found)?.criterion ?? null
  const used = new Set(rides.flatMap(({ board }) => board ?? []))
  return {
    ok: true,
    value: {
      season: { dog: found, criterion, rides },
      file: {
        ...asFiled,
        schema: 'tiphold.rides/1',
        dogs: (asFiled.dogs ?? []).filter(({ name }) => name.trim() === found),
        boards: (asFiled.boards ?? []).filter(({ name }) => used.has(name.trim())),
        rides: places.map((k) => asFiled.rides[k]!),
      },
      boards: [
        ...new Set([...(checked.boards ?? []).map(({ name }) => name), ...checked.rides.flatMap((r) => r.board ?? [])]),
      ],
    },
  }
}

/** A name as it is spelt, else one that differs in upper and lower case only; null when there is none. */
export function nameLike(names: readonly string[], wanted: string): string | null {
  const plain = (name: string) => name.trim().toLocaleLowerCase('en')
  return names.find((name) => name === wanted) ?? names.find((name) => plain(name) === plain(wanted)) ?? null
}

const haltsShape = z.object({ pauses: z.array(z.unknown()).optional(), turnedBack: z.boolean().optional() })

/** What is no estimate stands in the measures as they were filed. */
function seasonRide(ride: FiledRide, filed: unknown, index: number): SeasonRide {
  const { pauses, turnedBack } = haltsShape.safeParse(filed).data ?? {}
  return {
    index,
    day: ride.day == null ? null : dayNumber(ride.day),
    board: ride.board ?? null,
    purpose: ride.purpose ?? null,
    surface: ride.surface ?? null,
    byHand: ride.byHand ?? false,
    events: ride.events ?? {},
    measures: ride.measures ?? {},
    upZone: ride.zones?.up?.verdict ?? null,
    downZone: ride.zones?.down?.verdict ?? null,
    downAfterGround: ride.zones?.down?.touchedAfterGround ?? null,
    leaving: ride.leaving?.verdict ?? null,
    ...(pauses === undefined ? {} : { paused: pauses.length > 0 }),
    ...(turnedBack === undefined ? {} : { turnedBack }),
  }
}
