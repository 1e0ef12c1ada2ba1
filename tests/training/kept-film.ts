import { readFileSync, writeFileSync } from 'node:fs'
import { deserialize, serialize } from 'node:v8'
import type { Board } from '../../analysis/board/board.ts'
import type { BoardTrack } from '../../analysis/board/board-track.ts'
import { endRow } from '../../analysis/dog/end-in-picture.ts'
import type { PawPicture } from '../../analysis/dog/paw-picture.ts'
import type { PlankFilm } from '../../analysis/dog/plank-film.ts'
import type { Strip } from '../../analysis/dog/strip.ts'
import type { Truth } from '../accuracy/clips-with-truth.ts'

/**
 * A clip as it was followed, small enough to keep hundreds: all that a ride is put together from once the network has
 * looked, with what is true of it. Following takes minutes, the rest a second.
 */
export interface KeptFilm {
  readonly name: string
  /** Whose body crosses: `dog` or an animal's name. */
  readonly body: string
  /** Ground, sky and backdrop in words. */
  readonly surroundings: string
  readonly truth: Truth
  readonly board: Board
  readonly stretches: readonly KeptStretch[]
}

export interface KeptStretch {
  readonly picture: PawPicture
  /** Of its strips only the row by which an end of the plank counts as in the picture. */
  readonly film: PlankFilm
  readonly track: BoardTrack
}

/** The film without what the picture has summed up. */
export function slimFilm(film: PlankFilm): PlankFilm {
  const { grid } = film
  const row = endRow(grid)
  const slim = (strip: Strip): Strip => ({
    ...strip,
    deviation: strip.deviation.slice(row * grid.columns, (row + 1) * grid.columns),
  })
  return {
    ...film,
    grid: { ...grid, fromAboveM: grid.fromAboveM + row * grid.cellM, rows: 1 },
    strips: film.strips.map((strip) => (strip === null ? null : slim(strip))),
  }
}

export function writeKept(path: string, kept: KeptFilm): void {
  writeFileSync(path, serialize(kept))
}

export function readKept(path: string): KeptFilm {
  return deserialize(readFileSync(path)) as KeptFilm
}
