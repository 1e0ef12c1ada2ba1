import type { Marks } from '../../analysis/board/marks.ts'
import type { PictureSize } from '../../analysis/calibration/seesaw-camera.ts'
import { marksOf } from '../../analysis/marking/marks-draft.ts'
import type { KeptClip, Library } from '../library/library.ts'
import { dropsIn } from './board-drops.ts'

/** A clip of a board in which somebody marked the plank. */
export interface MarkedPicture {
  readonly marks: Marks
  readonly picture: PictureSize
}

/** More clips tell a board's sizes hardly better: ground and tape leave more open. */
const MOST_PICTURES = 6

/**
 * The newest clips of a board that tell its sizes by their marks, without those whose drops tell them already. Clips of
 * one tripod place share their marks' errors, so that of clips with the same marked points only one counts.
 */
export function markedPictures({ clips }: Pick<Library, 'clips'>, boardId: string): readonly MarkedPicture[] {
  const marked = clips
    .list()
    .filter((clip) => clip.setup.boardId === boardId && !tellsByDrops(clip))
    .flatMap(({ marks, facts: { fileName, widthPx, heightPx }, setup: { travel } }) => {
      const whole = marksOf(marks, { fileName, travel })
      return whole.ok ? [{ marks: whole.value, picture: { widthPx, heightPx } }] : []
    })
  const points = ({ marks: { rest } }: MarkedPicture) => JSON.stringify({ ...rest, frame: 0 })
  return marked
    .filter((one, k) => marked.findIndex((other) => points(other) === points(one)) === k)
    .slice(0, MOST_PICTURES)
}

function tellsByDrops(clip: KeptClip): boolean {
  const { drop } = clip
  return drop !== undefined && dropsIn({ ...clip, drop }).some(({ sizes }) => sizes !== undefined)
}
