import { solveLinear } from '../numeric/matrix.ts'

/**
 * Plane-to-plane projections: 3 x 3, row by row. Which planes they join stands in the variable's name,
 * for example `imageFromPlank`.
 */

/**
 * Where a projection takes a point.
 *
 * @param homography 3 x 3, row by row
 * @returns [x, y] in the target plane's unit; not finite on the horizon
 * @example applyHomography(Float64Array.of(2, 0, 1, 0, 2, 0, 0, 0, 1), 3, 4) // [7, 8]
 */
export function applyHomography(homography: Float64Array, x: number, y: number): [number, number] {
  const h = homography
  const w = h[6]! * x + h[7]! * y + h[8]!
  return [(h[0]! * x + h[1]! * y + h[2]!) / w, (h[3]! * x + h[4]! * y + h[5]!) / w]
}

/**
 * The projection that undoes another one.
 *
 * @param homography 3 x 3, row by row
 * @returns scaled so that its last element is 1 where that is not 0; all NaN for a projection onto a line
 */
export function invertHomography(homography: Float64Array): Float64Array {
  const [a, b, c, d, e, f, g, h, i] = homography as unknown as Nine
  const inverse = Float64Array.of(
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  )
  const determinant = a * inverse[0]! + b * inverse[3]! + c * inverse[6]!
  if (determinant === 0) return inverse.fill(NaN)
  const scale = inverse[8] === 0 ? 1 : inverse[8]!
  return inverse.map((element) => element / scale)
}

type Nine = [number, number, number, number, number, number, number, number, number]

/**
 * The projection that takes points of one plane to points of another: exact for four, least squares (of the
 * algebraic error, after Hartley's normalisation, IEEE PAMI 19, 1997) for more.
 *
 * @param from at least four [x, y], no three on a line, any unit
 * @param to as many [x, y]
 * @returns 3 x 3, last element 1, or `null` when the points do not determine it
 */
export function homographyFromPoints(
  from: readonly (readonly [number, number])[],
  to: readonly (readonly [number, number])[],
): Float64Array | null {
  if (from.length < 4 || from.length !== to.length) return null
  const source = normalise(from)
  const target = normalise(to)
  // Unknowns h0..h7 with h8 = 1 in normalised coordinates, where the centroid never maps to infinity.
  const normal = new Float64Array(64)
  const right = new Float64Array(8)
  for (let k = 0; k < from.length; k++) {
    const [x, y] = source.points[k]!
    const [u, v] = target.points[k]!
    for (const [row, value] of [
      [[x, y, 1, 0, 0, 0, -u * x, -u * y], u],
      [[0, 0, 0, x, y, 1, -v * x, -v * y], v],
    ] as const) {
      for (let i = 0; i < 8; i++) {
        for (let j = 0; j < 8; j++) normal[i * 8 + j]! += row[i]! * row[j]!
        right[i]! += row[i]! * value
      }
    }
  }
  const solved = solveLinear(normal, right, 8)
  if (solved === null) return null
  const core = Float64Array.of(...solved, 1)
  return composeHomographies(target.restore, composeHomographies(core, source.shrink))
}

/**
 * First `second`, then `first`: `applyHomography(composeHomographies(a, b), p)` is a(b(p)).
 *
 * @returns 3 x 3, scaled so that its last element is 1 where that is not 0
 */
export function composeHomographies(first: Float64Array, second: Float64Array): Float64Array {
  const product = new Float64Array(9)
  for (let row = 0; row < 3; row++) {
    for (let column = 0; column < 3; column++) {
      let sum = 0
      for (let k = 0; k < 3; k++) sum += first[row * 3 + k]! * second[k * 3 + column]!
      product[row * 3 + column] = sum
    }
  }
  const scale = product[8] === 0 ? 1 : product[8]!
  return product.map((element) => element / scale)
}

function normalise(points: readonly (readonly [number, number])[]) {
  const count = points.length
  const meanX = points.reduce((sum, [x]) => sum + x, 0) / count
  const meanY = points.reduce((sum, [, y]) => sum + y, 0) / count
  const size = points.reduce((sum, [x, y]) => sum + Math.hypot(x - meanX, y - meanY), 0) / count || 1
  return {
    points: points.map(([x, y]) => [(x - meanX) / size, (y - meanY) / size] as const),
    shrink: Float64Array.of(1 / size, 0, -meanX / size, 0, 1 / size, -meanY / size, 0, 0, 1),
    restore: Float64Array.of(size, 0, meanX, 0, size, meanY, 0, 0, 1),
  }
}

/** The projection that changes nothing. */
export function identityHomography(): Float64Array {
  return Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1)
}
