import type { PlankOutline } from '../scene/plank-outline.ts'
import type { StripGrid } from './strip-grid.ts'
import type { Strip } from './strip.ts'

/** Everything about the band along the plank that the dog is found from; arrays have one element a frame. */
export interface PlankFilm {
  readonly ptsS: Float64Array
  readonly grid: StripGrid
  /** null where the plank was not followed. */
  readonly strips: readonly (Strip | null)[]
  readonly outlines: readonly (PlankOutline | null)[]
  readonly lengthM: number
}
