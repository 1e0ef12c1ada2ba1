import { randomUUID } from 'node:crypto'
import type { Handlers } from '../contract/calls.ts'
import { problem } from '../contract/outcome.ts'
import { boardFault } from '../files/board-file.ts'
import type { Library } from '../library/library.ts'
import { answered } from '../library/library-problem.ts'

export function boardsServices({ boards }: Library): Pick<Handlers, 'boards.list' | 'boards.keep' | 'boards.remove'> {
  return {
    'boards.list': () => answered(() => boards.list()),

    'boards.keep': async ({ id, board }) => {
      if (id !== null && boards.get(id) === null) return noSuchBoard
      const fault = boardFault(board.shape)
      if (fault !== null) return problem('bad-input', `${fault.field} ${fault.what}`)
      const kept = { ...board, id: id ?? randomUUID() }
      return answered(async () => {
        await boards.put(kept)
        return kept
      })
    },

    'boards.remove': async ({ id }) => {
      if (boards.get(id) === null) return noSuchBoard
      return answered(async () => {
        await boards.remove(id)
        return null
      })
    },
  }
}

const noSuchBoard = problem('not-found', 'This board is no longer in the library: choose another one.')
