/** Where the border between two colours lies on a sampled line. */
export interface ColourStep {
  /** How far the border lies beyond where it was expected, in the unit of the positions. */
  readonly shift: number
  /** Root mean square colour difference that two uniform colours leave unexplained, grey levels. */
  readonly misfit: number
  /** Colour difference across the border, grey levels. */
  readonly contrast: number
}

/**
 * Finds the border between two uniform but unknown colours on a sampled line: the place that leaves least unexplained.
 *
 * Nothing is believed about the colours, so that the result does not lean towards where the border was expected.
 *
 * @param positions of the samples, any unit
 * @param colours three numbers Y, U, V (0-255) a sample
 * @param expected place of the border, same unit
 * @param blur width of the border, 1 sd, same unit
 * @param reach largest shift looked for, same unit
 * @returns null when the best place lies at the end of the reach
 * @example a line that is dark up to 3.2 and light beyond, expected at 3, gives shift 0.2
 */
export function findColourStep(
  positions: Float64Array,
  colours: Float32Array,
  expected: number,
  blur: number,
  reach: number,
): ColourStep | null {
  const step = blur / 3
  const half = Math.ceil(reach / step)
  const fits = Array.from({ length: 2 * half + 1 }, (_, k) =>
    fitStep(positions, colours, expected + (k - half) * step, blur),
  )
  const best = fits.reduce((least, fit, k) => (fit.squares < fits[least]!.squares ? k : least), 0)
  const before = fits[best - 1]
  const here = fits[best]!
  const after = fits[best + 1]
  if (before === undefined || after === undefined) return null
  const bend = before.squares - 2 * here.squares + after.squares
  if (!(bend > 0)) return null
  return {
    shift: (best - half) * step + (0.5 * step * (before.squares - after.squares)) / bend,
    misfit: Math.sqrt(here.squares / colours.length),
    contrast: here.contrast,
  }
}

/** Straight-line regression of each channel on a blurred step at `border`: what it leaves, and the step's height. */
function fitStep(
  positions: Float64Array,
  colours: Float32Array,
  border: number,
  blur: number,
): { squares: number; contrast: number } {
  const count = positions.length
  const ramp = positions.map((position) => smoothStep((position - border) / blur))
  const rampMean = mean(ramp)
  const rampSquares = ramp.reduce((sum, value) => sum + (value - rampMean) ** 2, 0)
  if (!(rampSquares > 1e-9)) return { squares: Infinity, contrast: 0 }
  let squares = 0
  let contrast = 0
  for (let channel = 0; channel < 3; channel++) {
    let sum = 0
    for (let k = 0; k < count; k++) sum += colours[3 * k + channel]!
    const colourMean = sum / count
    let total = 0
    let shared = 0
    for (let k = 0; k < count; k++) {
      const colour = colours[3 * k + channel]! - colourMean
      total += colour * colour
      shared += colour * (ramp[k]! - rampMean)
    }
    squares += total - (shared * shared) / rampSquares
    contrast += (shared / rampSquares) ** 2
  }
  return { squares, contrast: Math.sqrt(contrast) }
}

function mean(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}

/** The logistic curve nearest to the normal distribution's: 0 far below, 1 far above, 0.5 at 0. */
function smoothStep(x: number): number {
  return 1 / (1 + Math.exp(-1.702 * x))
}
