import type { ExpectedPicture } from '../scene/expected-picture.ts'
import type { StripGrid } from './strip-grid.ts'

/** What the band along the plank looks like without a dog, at one board angle: one element a cell of the grid. */
export interface ExpectedStrip {
  /** NaN where the background is unknown. */
  readonly y: Float32Array
  readonly u: Float32Array
  readonly v: Float32Array
  /** How exactly luma is known, 1 / variance. */
  readonly precisionY: Float32Array
  /** The same for either chroma. */
  readonly precisionUv: Float32Array
  /** For each column, how many rows from the lowest on do not reach over the plank's upper edge. */
  readonly rowsOnPlank: Int16Array
}

/** The plank's edges are known to about this share of a cell, 1 sd. */
const EDGE_SD_CELLS = 0.35

/**
 * Draws the expected picture over the grid of the strips.
 *
 * @param expected what the seesaw looks like without a dog at one board angle
 * @param grid where the strips' cells lie along and above the plank
 * @param spent a strip of the same grid that is needed no more: it is drawn over and saves the memory of a new one
 * @returns colours and how exactly they are known, row by row as in `Strip`
 */
export function expectedStrip(expected: ExpectedPicture, grid: StripGrid, spent?: ExpectedStrip): ExpectedStrip {
  const strip = spent ?? emptyStrip(grid)
  const { y, u, v, precisionY, precisionUv, rowsOnPlank } = strip
  rowsOnPlank.fill(0)
  const edgeM = EDGE_SD_CELLS * grid.cellM
  const want = new Float32Array(7)
  let i = 0
  for (let row = 0; row < grid.rows; row++) {
    const aboveM = grid.fromAboveM + row * grid.cellM
    for (let column = 0; column < grid.columns; column++, i++) {
      const alongM = grid.fromAlongM + column * grid.cellM
      expected.sample(alongM, aboveM, want, 0)
      y[i] = want[0]!
      u[i] = want[1]!
      v[i] = want[2]!
      const spread = want[3]! ** 2
      precisionY[i] = 1 / (9 + 1.5 * spread + (edgeM * want[4]!) ** 2)
      precisionUv[i] = 1 / (6 + 0.08 * spread + (edgeM * want[5]!) ** 2 + (edgeM * want[6]!) ** 2)
      if (aboveM <= expected.topM(alongM)) rowsOnPlank[column] = row + 1
    }
  }
  return strip
}

function emptyStrip({ columns, rows }: StripGrid): ExpectedStrip {
  const cells = () => new Float32Array(columns * rows)
  return {
    y: cells(),
    u: cells(),
    v: cells(),
    precisionY: cells(),
    precisionUv: cells(),
    rowsOnPlank: new Int16Array(columns),
  }
}

/** So many drawings are kept: a board at rest trembles between a few neighbouring angles. */
const KEPT = 12

/** Draws the strip at an angle, rad, over a spent one if there is one. */
type Draw = (angleRad: number, spent: ExpectedStrip | undefined) => ExpectedStrip

/** Expected strips by angle, drawn anew only when the board has turned by more than its angle is known. */
export class ExpectedStrips {
  readonly #draw: Draw
  readonly #stepRad: number
  readonly #drawn = new Map<number, ExpectedStrip>()

  /** @param stepRad angles within such a step share a strip, rad */
  constructor(draw: Draw, stepRad: number) {
    this.#draw = draw
    this.#stepRad = stepRad
  }

  /** The strip at the step nearest to an angle; it holds until the next one is asked for. */
  near(angleRad: number): ExpectedStrip {
    const step = Math.round(angleRad / this.#stepRad)
    const strip = this.#drawn.get(step) ?? this.#draw(step * this.#stepRad, this.#takeSpent())
    // Last used, last in the map.
    this.#drawn.delete(step)
    this.#drawn.set(step, strip)
    return strip
  }

  /** Gives up the strip that was not used for longest, once there are enough. */
  #takeSpent(): ExpectedStrip | undefined {
    const [oldest] = this.#drawn
    if (oldest === undefined || this.#drawn.size < KEPT) return undefined
    this.#drawn.delete(oldest[0])
    return oldest[1]
  }
}
