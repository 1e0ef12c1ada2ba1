import type { Drop } from '../../analysis/drop/drop-test.ts'
import type { KeptClip, KeptDrop, Library } from '../library/library.ts'

/** A clip in which drop tests of a board were measured. */
export type DroppedClip = KeptClip & { readonly drop: KeptDrop }

/** A drop test with its day, as `2026-05-14`. */
export type DatedDrop = Drop & { readonly day: string }

/** The clips with drop tests of a board, the latest first. */
export function clipsWithDrops({ clips }: Pick<Library, 'clips'>, boardId: string): readonly DroppedClip[] {
  return clips
    .list()
    .filter((clip): clip is DroppedClip => clip.drop?.boardId === boardId)
    .sort((a, b) => dayOfClip(b).localeCompare(dayOfClip(a)))
}

/** The day that the film's own tags tell, else the day on which it was taken in. */
export function dayOfClip({ filmedOn, takenInAt }: KeptClip): string {
  return filmedOn ?? takenInAt.slice(0, 10)
}

/** The drops of one clip, in their order. */
export function dropsIn({ drop: { drop, furtherDrops = [] } }: DroppedClip): readonly Drop[] {
  return [drop, ...furtherDrops]
}

export function datedDrops(clip: DroppedClip): readonly DatedDrop[] {
  return dropsIn(clip).map((drop) => ({ ...drop, day: dayOfClip(clip) }))
}
