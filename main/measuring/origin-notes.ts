import type { Board } from '../../analysis/board/board.ts'
import type { ClipOrigins } from '../../analysis/clip/frame.ts'

/**
 * What a reader must know of marks and board that nobody gave, a sentence each.
 *
 * @param origins of marks and board
 * @param board that the clip was measured with, m
 */
export function originNotes({ marksFrom, boardFrom }: ClipOrigins = {}, { lengthM, contactM }: Board): string[] {
  return [
    ...(marksFrom === 'found'
      ? ['The program found the plank by itself: check in the pictures that the drawn plank lies on the real one.']
      : []),
    ...(boardFrom === 'assumed'
      ? [
          `No board was given, so all lengths are provisional: a plank of ${lengthM} m with zones of ${contactM} m was assumed.`,
        ]
      : []),
  ]
}
