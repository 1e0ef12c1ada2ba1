import { randomUUID } from 'node:crypto'
import type { Handlers } from '../contract/calls.ts'
import { problem } from '../contract/outcome.ts'
import { boardFault } from '../../analysis/board/board-limits.ts'
import type { Library } from '../library/library.ts'
import { answered, thereOr } from '../library/library-problem.ts'

export function boardsServices({ boards }: Library): Pick<Handlers, 'boards.list' | 'boards.keep' | 'boards.remove'> {
  return {
    'boards.list': () => answered(() => boards.list()),

    'boards.keep': async ({ id, board }) => {
      const fault = boardFault(board.shape)
      if (fault !== null) return problem('bad-input', `${fault.field} ${fault.what}`)
      return answered(async () => {
        if (id !== null) return thereOr(await boards.update(id, () => ({ ...board, id })), noSuchBoard)
        const kept = { ...board, id: randomUUID() }
        await boards.put(kept)
        return kept
      })
    },

    'boards.remove': ({ id }) => answered(async () => thereOr(await boards.remove(id), noSuchBoard)),
  }
}

const noSuchBoard = 'This board is no longer in the library: choose another one.'
