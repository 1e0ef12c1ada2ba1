import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { USUAL_BOARD } from '../../analysis/rules/rule-sets.ts'
import type { Handlers } from '../contract/calls.ts'
import { problem, success } from '../contract/outcome.ts'
import { NO_SESSION } from '../contract/sessions.ts'
import type { Library } from '../library/library.ts'
import { answered } from '../library/library-problem.ts'
import { readRidesFile } from '../outputs/progress/rides-file.ts'

const NOTE = 'Invented, to try the program on: no such dog ever rode.'
const BOARD_NOTE = 'A board of the invented season.'

/**
 * The invented season: three dogs on four boards over a summer, kept beside whatever the library holds. Taken in twice
 * it is the same season, since its things have fixed ids.
 *
 * @param folder where it lies
 */
export function seasonSample(
  library: Library,
  folder: string,
): Pick<Handlers, 'samples.season' | 'samples.takeInSeason'> {
  const path = join(folder, 'rides.json')
  return {
    'samples.season': () =>
      Promise.resolve(
        success({
          isThere: existsSync(path),
          dogs: library.dogs.list().flatMap(({ id, name }) => (id.startsWith('invented-') ? [{ id, name }] : [])),
        }),
      ),

    'samples.takeInSeason': async () => {
      const rides = await readRidesFile(path)
      if (!rides.ok) return problem('unreadable', 'The invented season cannot be read: install the program again.')
      const { checked, asFiled } = rides.value
      return answered(async () => {
        for (const { name, material } of checked.boards ?? []) {
          const shape = { ...USUAL_BOARD, ...(material == null ? {} : { materialWord: material }) }
          await library.boards.put({ id: idOf(name), name, shape, note: BOARD_NOTE })
        }
        for (const dog of checked.dogs ?? []) {
          const { name, massKg = null, heightM = null, bornOn = null } = dog as typeof dog & InventedDog
          await library.dogs.put({
            id: idOf(name),
            name,
            massKg,
            withersM: heightM,
            bodyDay: null,
            bodyBefore: [],
            bornInMonth: bornOn === null ? null : bornOn.slice(0, 7),
            criterion: null,
            note: NOTE,
          })
        }
        for (const [k, ride] of checked.rides.entries()) {
          const { events, measures, zones, leaving } = asFiled.rides[k]!
          const { day = null, purpose = null, surface } = ride
          await library.noted.put({
            id: `invented-ride-${k}`,
            dogId: idOf(ride.dog),
            boardId: ride.board == null ? null : idOf(ride.board),
            session: { ...NO_SESSION, day, purpose, surface: surface ?? '' },
            note: '',
            origin: 'invented',
            facts: { events, measures, zones, leaving },
          })
        }
        return (checked.dogs ?? []).map(({ name }) => ({ id: idOf(name), name }))
      })
    },
  }
}

interface InventedDog {
  readonly massKg?: number | null
  readonly heightM?: number | null
  readonly bornOn?: string | null
}

function idOf(name: string): string {
  return `invented-${name.toLowerCase().replace(/[^a-z0-9]+/g, '-')}`
}
