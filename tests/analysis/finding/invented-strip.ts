import type { PlankStrip } from '../../../analysis/finding/plank-strip.ts'

export type Colour = readonly [number, number, number]

/** A layer of the plank as seen from the side, m over the near top edge. */
export interface Layer {
  readonly fromM: number
  readonly toM: number
  readonly colour: Colour
}

const GRASS: Colour = [90, -18, -6]
const COLUMN_M = 0.005
const ROW_M = 0.0025
/** An edge is blurred over this, m, 1 sd. */
const BLUR_M = 0.003

/**
 * A straightened picture of a plank 3.6 m long before patchy grass: layers across it between two ends, each edge
 * blurred. `colourAt` may change a layer's colour along the plank; `light` is how much lighter the grass has become.
 */
export function inventedStrip(
  layers: readonly Layer[],
  ends: readonly [number, number],
  options: { readonly colourAt?: (alongM: number, colour: Colour) => Colour; readonly light?: number } = {},
): PlankStrip {
  const { colourAt = (_: number, colour: Colour) => colour, light = 1 } = options
  const [columns, rows] = [Math.ceil(4 / COLUMN_M), Math.ceil(0.36 / ROW_M)]
  const strip = {
    columns,
    rows,
    columnM: COLUMN_M,
    rowM: ROW_M,
    fromAlongM: -0.2,
    fromAboveM: -0.16,
    seen: new Float32Array(3 * columns * rows),
    behind: new Float32Array(3 * columns * rows),
  }
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const [alongM, aboveM] = [strip.fromAlongM + column * COLUMN_M, strip.fromAboveM + row * ROW_M]
      const patch = 6 * Math.sin(37 * alongM + 91 * aboveM) + 5 * Math.sin(113 * alongM - 171 * aboveM)
      const on = over(alongM - ends[0]) * over(ends[1] - alongM)
      for (let c = 0; c < 3; c++) {
        const grass = GRASS[c]! + (c === 0 ? patch : 0)
        let value = light * grass
        for (const { fromM, toM, colour } of layers) {
          const share = on * (over(aboveM - fromM) - over(aboveM - toM))
          value += share * (colourAt(alongM, colour)[c]! - light * grass)
        }
        const i = 3 * (row * columns + column) + c
        strip.behind[i] = grass
        strip.seen[i] = value
      }
    }
  }
  return strip
}

/** 0 well below 0, 1 well above: the error function by its series (Abramowitz and Stegun, 7.1.5). */
function over(m: number): number {
  const x = m / BLUR_M / Math.SQRT2
  if (Math.abs(x) > 3) return x > 0 ? 1 : 0
  let term = x
  let sum = x
  for (let k = 1; k < 60; k++) {
    term *= (-x * x) / k
    sum += term / (2 * k + 1)
  }
  return 0.5 + sum / Math.sqrt(Math.PI)
}
