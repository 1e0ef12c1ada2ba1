import type { BoardFeel } from '../../analysis/board-physics/feel.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { useCall } from '../host/use-call.ts'

/** How the tested boards feel, by id; those still being worked out are not in it. */
export function useFeels(): ReadonlyMap<string, BoardFeel> {
  const feels = useCall('boards.feels', {}, { staleTime: Infinity }).data ?? []
  return new Map(feels.map(({ boardId, feel }) => [boardId, feel]))
}

/** The figure of feel beside a board's name: "feel 0.59 s"; null where no drop test tells it. */
export function feelInWords(feel: BoardFeel | undefined): string | null {
  return feel?.feelS.kind === 'measured' ? `feel ${fixed(feel.feelS.value, 2)} s` : null
}
