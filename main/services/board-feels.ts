import type { BoardFeel } from '../../analysis/board-physics/feel.ts'
import type { KeptBoard } from '../contract/dogs-and-boards.ts'
import type { Library } from '../library/library.ts'
import { clipsWithDrops, datedDrops, type DroppedClip } from './board-drops.ts'
import type { ReportingService } from './reporting-service.ts'

/** How the tested boards of the library feel, by id. */
export interface BoardFeels {
  /** Those worked out already; what is still missing is begun, and `onMore` called when there is more. */
  known(): ReadonlyMap<string, BoardFeel>
}

interface Known {
  readonly board: KeptBoard
  readonly clips: readonly DroppedClip[]
  /** Null where it could not be worked out. */
  readonly feel: BoardFeel | null
}

/** Works out how boards feel, one after another and beside everything else; remembered until board or drops change. */
export function boardFeels(library: Library, reporting: ReportingService, onMore: () => void): BoardFeels {
  const known = new Map<string, Known>()
  let isWorking = false

  function missing(): Omit<Known, 'feel'> | null {
    for (const board of library.boards.list()) {
      const clips = clipsWithDrops(library, board.id)
      if (clips.length > 0 && !isCurrent(known.get(board.id), board, clips)) return { board, clips }
    }
    return null
  }

  async function work(): Promise<void> {
    isWorking = true
    try {
      for (let next = missing(); next !== null; next = missing()) {
        const { board, clips } = next
        const answer = await reporting.ask({ kind: 'feel', board: board.shape, drops: clips.flatMap(datedDrops) })
        known.set(board.id, { board, clips, feel: answer.ok ? answer.value.feel : null })
        if (answer.ok) onMore()
      }
    } finally {
      isWorking = false
    }
  }

  return {
    known() {
      if (!isWorking && missing() !== null) void work()
      return new Map(
        library.boards.list().flatMap((board) => {
          const one = known.get(board.id)
          return one?.feel != null && isCurrent(one, board, clipsWithDrops(library, board.id))
            ? [[board.id, one.feel] as const]
            : []
        }),
      )
    },
  }
}

function isCurrent(one: Known | undefined, board: KeptBoard, clips: readonly DroppedClip[]): boolean {
  return (
    one !== undefined &&
    JSON.stringify(one.board.shape) === JSON.stringify(board.shape) &&
    one.clips.length === clips.length &&
    one.clips.every(({ drop }, k) => drop === clips[k]!.drop)
  )
}
