import type { BoardFeel } from '../../analysis/board-physics/feel.ts'
import type { KeptBoard } from '../contract/dogs-and-boards.ts'
import type { Library } from '../library/library.ts'
import { clipsWithDrops, datedDrops, type DroppedClip } from './board-drops.ts'
import type { ReportingService } from './reporting-service.ts'
import { type WeighedCard, weighedCards, weighedRides } from './weighed-rides.ts'

/** How the boards of the library feel, by id: those with a drop test or with rides of weighed dogs. */
export interface BoardFeels {
  /** Those worked out already; what is still missing is begun, and `onMore` called when there is more. */
  known(): ReadonlyMap<string, BoardFeel>
}

/** What the feel of a board rests on. */
export interface Basis {
  readonly board: KeptBoard
  readonly clips: readonly DroppedClip[]
  readonly rides: readonly WeighedCard[]
}

/** Works out how boards feel, one after another and beside everything else; remembered until what they rest on changes. */
export function boardFeels(library: Library, reporting: ReportingService, onMore: () => void): BoardFeels {
  /** The feel is null where it could not be worked out. */
  const known = new Map<string, Basis & { readonly feel: BoardFeel | null }>()
  let isWorking = false

  const bases = () => feelBases(library)
  const missing = () => bases().find((basis) => !isSame(known.get(basis.board.id), basis))

  async function work(): Promise<void> {
    isWorking = true
    try {
      for (let next = missing(); next !== undefined; next = missing()) {
        const { board, clips } = next
        const rides = await weighedRides(library, next.rides)
        const told = { board: board.shape, drops: clips.flatMap(datedDrops), rides }
        const isTold = told.drops.length > 0 || rides.length > 0
        const answer = isTold ? await reporting.ask({ kind: 'feel', ...told }) : null
        const feel = answer?.ok === true ? answer.value.feel : null
        known.set(board.id, { ...next, feel })
        if (feel !== null) onMore()
      }
    } finally {
      isWorking = false
    }
  }

  return {
    known() {
      const now = bases()
      if (!isWorking && now.some((basis) => !isSame(known.get(basis.board.id), basis))) void work()
      return new Map(
        now.flatMap((basis) => {
          const one = known.get(basis.board.id)
          return one?.feel != null && isSame(one, basis) ? [[basis.board.id, one.feel] as const] : []
        }),
      )
    },
  }
}

/** The boards of a library that have a drop test or rides of weighed dogs, each with them. */
export function feelBases(library: Library): readonly Basis[] {
  const ridesOn = weighedCards(library)
  return library.boards
    .list()
    .map((board) => ({ board, clips: clipsWithDrops(library, board.id), rides: ridesOn.get(board.id) ?? [] }))
    .filter(({ clips, rides }) => clips.length > 0 || rides.length > 0)
}

function isSame(one: Basis | undefined, { board, clips, rides }: Basis): boolean {
  return (
    one !== undefined &&
    JSON.stringify(one.board.shape) === JSON.stringify(board.shape) &&
    one.clips.length === clips.length &&
    one.clips.every(({ drop }, k) => drop === clips[k]!.drop) &&
    one.rides.length === rides.length &&
    one.rides.every(({ version, dog }, k) => version === rides[k]!.version && dog.massKg === rides[k]!.dog.massKg)
  )
}
