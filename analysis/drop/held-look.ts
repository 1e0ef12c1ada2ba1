import { UNKNOWN_CELL, type Strip } from '../dog/strip.ts'
import type { StripGrid } from '../dog/strip-grid.ts'
import { median } from '../numeric/robust.ts'

/** Changes of a still picture that are the codec's, tenths of an sd on average. */
const FAINT = 0.9

/**
 * How a window of the strip looks while nothing moves in it, and what its changes mean in metres: as much as the same
 * look changes when it is shifted by one cell.
 */
export class HeldLook {
  readonly #cells: readonly number[]
  readonly #look: Float64Array
  /** m for each tenth of an sd that the window's cells differ on average. */
  readonly #perChangeM: number

  /**
   * @param held strips of one stretch without motion, at least one
   * @param cells indices of the window's cells
   */
  constructor(held: readonly Strip[], { cellM, columns }: StripGrid, cells: readonly number[]) {
    this.#cells = cells
    this.#look = new Float64Array(held[0]!.deviation.length).fill(NaN)
    for (const cell of cells) {
      const known = held.map(({ deviation }) => deviation[cell]!).filter((value) => value !== UNKNOWN_CELL)
      if (known.length > 0) this.#look[cell] = median(known)
    }
    const shifts = [1, -1, columns, -columns].map((shift) =>
      this.#difference((cell) => this.#look[cell + shift] ?? NaN),
    )
    this.#perChangeM = cellM / (shifts.reduce((sum, change) => sum + change, 0) / shifts.length)
  }

  /** How far what is in the window has moved, m; NaN where the strip knows nothing of it. */
  distanceM({ deviation }: Strip): number {
    return this.#perChangeM * this.#difference((cell) => (deviation[cell] === UNKNOWN_CELL ? NaN : deviation[cell]!))
  }

  /** How far it seems to have moved while it does not, 1 sd, m. */
  noiseM(held: readonly Strip[]): number {
    return Math.hypot(this.#perChangeM * FAINT, median(held.map((strip) => this.distanceM(strip))))
  }

  /** Mean difference from the look over the window's known cells, tenths of an sd. */
  #difference(valueAt: (cell: number) => number): number {
    let sum = 0
    let count = 0
    for (const cell of this.#cells) {
      const difference = Math.abs(valueAt(cell) - this.#look[cell]!)
      if (Number.isNaN(difference)) continue
      sum += difference
      count++
    }
    return sum / count
  }
}
