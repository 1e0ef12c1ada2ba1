import { fallsAndLeavings } from '../../../analysis/progress/fall-and-leaving.ts'
import { fallByFeel } from '../../../analysis/progress/fall-by-feel.ts'
import type { ShowQuestion } from '../../../analysis/progress/show-check.ts'
import type { Parsed } from '../../files/parsed.ts'
import { type DogOfRides, dogOfRides, nameLike, type Rides } from './rides-file.ts'

/** A board at a show: by its name, or by its fall, s. */
export interface AskedBoard {
  readonly board?: string
  readonly dropTimeS?: number
  readonly rules: ShowQuestion['rules']
}

/** The board by its name as it is spelt; its fall, where this dog has not been on it, from how it feels, else from other dogs' rides. */
export function showQuestion(asked: AskedBoard, rides: Rides, dog: DogOfRides): Parsed<ShowQuestion> {
  const { rules } = asked
  if (asked.board === undefined) return { ok: true, value: { board: null, fallS: asked.dropTimeS!, rules } }
  const board = nameLike(dog.boards, asked.board)
  if (board === null) {
    const known = dog.boards.length === 0 ? 'no boards' : dog.boards.slice(0, 12).join(', ')
    return { ok: false, message: `${rides.path}: has no board named "${asked.board}"; it has ${known}` }
  }
  if (dog.season.rides.some((ride) => ride.board === board && !ride.byHand)) {
    return { ok: true, value: { board, fallS: null, rules } }
  }
  const feels = new Map(
    (rides.checked.boards ?? []).flatMap(({ name, feelS }) =>
      feelS?.kind === 'measured' && feelS.value > 0 ? [[name, feelS] as const] : [],
    ),
  )
  const byFeel = fallByFeel(dog.season.rides, feels, board)
  if (byFeel !== null) {
    return { ok: true, value: { board, fallS: byFeel.fallS, fallSdS: byFeel.sdS, isByFeel: true, rules } }
  }
  const others = [...new Set(rides.checked.rides.map((ride) => ride.dog))].flatMap((name) => {
    const other = dogOfRides(rides, name)
    if (!other.ok) return []
    const falls = fallsAndLeavings(other.value.season.rides)
    return falls.usualFallS[falls.boards.indexOf(board)] ?? []
  })
  const known = others.filter(Number.isFinite)
  if (known.length === 0) {
    const message = `${rides.path}: no ride tells how fast "${board}" falls; give --drop-time-s instead of --board`
    return { ok: false, message }
  }
  return { ok: true, value: { board, fallS: known.reduce((sum, fall) => sum + fall, 0) / known.length, rules } }
}
