import type { BoardTrack } from '../board/board-track.ts'
import type { PlankFilm } from '../dog/plank-film.ts'
import { findBoardEvents } from '../ride/board-events.ts'
import { findWeight } from './weight.ts'

/**
 * Whether a clip without a dog shows a drop test: something was laid on the down contact and let go, and the board fell.
 *
 * @param film strips along the plank, moving with it
 * @param track the board's angle in the same frames, rad
 * @param massAtM where rule books lay the weight, m along
 * @returns false where the board did not tip, or nothing came to lie there before it did
 */
export function looksLikeDrop(film: PlankFilm, track: BoardTrack, massAtM: number): boolean {
  const { moved, tipStart } = findBoardEvents(track)
  if (moved !== true || tipStart.kind !== 'measured') return false
  return findWeight(film, massAtM, tipStart.value).placed.kind === 'measured'
}
