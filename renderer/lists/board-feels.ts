import type { BoardFeel } from '../../analysis/board-physics/feel.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { useCall } from '../host/use-call.ts'

/** How boards feel that were tested or ridden by weighed dogs, by id; those still being worked out are not in it. */
export function useFeels(): ReadonlyMap<string, BoardFeel> {
  const feels = useCall('boards.feels', {}, { staleTime: Infinity }).data ?? []
  return new Map(feels.map(({ boardId, feel }) => [boardId, feel]))
}

/** The figure of feel beside a board's name: "feel 0.59 s", "about" where rides alone tell it; null where nothing does. */
export function feelInWords(feel: BoardFeel | undefined): string | null {
  if (feel?.feelS.kind !== 'measured') return null
  return `feel ${feel.restsOn.drops === 0 ? 'about ' : ''}${fixed(feel.feelS.value, 2)} s`
}
