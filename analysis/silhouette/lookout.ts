import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { Frame } from '../clip/frame.ts'
import type { DogTrack } from '../dog/dog-track.ts'
import { UNKNOWN_CELL, type Strip } from '../dog/strip.ts'
import type { StripGrid } from '../dog/strip-grid.ts'
import type { Scene } from '../scene/learn-scene.ts'
import type { DogLikeness } from './dog-likeness.ts'
import { dogOutlines, seenDog, type SeenDog } from './dog-outlines.ts'
import { BAND_M, lookAbout, type Look, type SeesawSight } from './look.ts'
import type { Outline } from './outline.ts'
import { BEYOND_M, latticeAbout, learnSurroundings, type Lattice, type Surroundings } from './surroundings.ts'

/** Looks at each frame in which somebody is at the plank, for the dog's outline later on. */
export class Lookout {
  readonly #camera: SeesawCamera
  readonly #scene: Scene
  readonly #lattice: Lattice
  #surroundings: Surroundings | null = null
  #last: { readonly dog: DogTrack; readonly seen: SeenDog | null } | null = null

  constructor(camera: SeesawCamera, scene: Scene) {
    this.#camera = camera
    this.#scene = scene
    this.#lattice = latticeAbout(camera, BAND_M, scene.background.scale)
  }

  /** What is to be seen about the plank; null where nobody is. */
  look(frame: Frame, sight: SeesawSight): Look | null {
    const busy = busyPart(sight.strip, sight.grid)
    if (busy === null) return null
    this.#surroundings ??= learnSurroundings(this.#camera, this.#scene.stills, this.#lattice)
    return lookAbout(frame, this.#camera, this.#surroundings, sight, {
      fromM: Math.max(-BEYOND_M, busy.fromM - ABOUT_M),
      toM: Math.min(this.#camera.lengthM + BEYOND_M, busy.toM + ABOUT_M),
    })
  }

  /** The dog's outlines, one a look; `dog` has an element a look. */
  outlines(looks: readonly (Look | null)[], dog: DogTrack): (Outline | null)[] {
    return dogOutlines(looks, this.#lattice, dog, this.#seen(looks, dog))
  }

  /** What the dog looks like, from the same looks; null where it is seen in too few. */
  likeness(looks: readonly (Look | null)[], dog: DogTrack): DogLikeness | null {
    return this.#seen(looks, dog)?.likeness ?? null
  }

  /** Learnt once for both. */
  #seen(looks: readonly (Look | null)[], dog: DogTrack): SeenDog | null {
    if (this.#last?.dog !== dog) this.#last = { dog, seen: seenDog(looks, this.#lattice, dog) }
    return this.#last.seen
  }
}

/** Noses and tails are up to so far beyond what stands on the plank, m. */
const ABOUT_M = 0.6
/** Where legs and bodies are over the plank, m, and which rows and columns of it are enough to see them, m. */
const LEGS_M = { from: 0.06, to: 0.3 }
const EVERY_M = 0.025
/** From here on a cell is strange, in tenths of sd; so many in a column are no noise. */
const STRANGE = 40
const LEAST_STRANGE = 3

/** Where along the plank something stands, m; null where nothing does. */
function busyPart(strip: Strip, grid: StripGrid): { readonly fromM: number; readonly toM: number } | null {
  const step = Math.max(1, Math.round(EVERY_M / grid.cellM))
  const fromRow = Math.round((LEGS_M.from - grid.fromAboveM) / grid.cellM)
  const toRow = Math.min(grid.rows, Math.round((LEGS_M.to - grid.fromAboveM) / grid.cellM))
  let [first, last] = [-1, -1]
  for (let column = 0; column < grid.columns; column += step) {
    let strange = 0
    for (let row = fromRow; row < toRow; row += step) {
      const cell = strip.deviation[row * grid.columns + column]!
      if (cell !== UNKNOWN_CELL && cell > STRANGE) strange++
    }
    if (strange < LEAST_STRANGE) continue
    if (first < 0) first = column
    last = column
  }
  if (first < 0) return null
  return { fromM: grid.fromAlongM + first * grid.cellM, toM: grid.fromAlongM + last * grid.cellM }
}
