/** Rotation vectors: direction = axis, length = angle in rad. Camera axes: x right, y down, z forward. */
export type RotationVector = readonly [number, number, number]

/**
 * The 3 x 3 matrix, row by row, of a rotation vector (Rodrigues' formula).
 *
 * @param vector rad
 * @returns for example `rotationMatrix([0, 0, Math.PI / 2])` takes x to y
 */
export function rotationMatrix(vector: RotationVector): Float64Array {
  const angle = Math.hypot(...vector)
  if (angle < 1e-12)
    return Float64Array.of(1, -vector[2], vector[1], vector[2], 1, -vector[0], -vector[1], vector[0], 1)
  const [x, y, z] = [vector[0] / angle, vector[1] / angle, vector[2] / angle]
  const c = Math.cos(angle)
  const s = Math.sin(angle)
  const t = 1 - c
  return Float64Array.of(
    t * x * x + c,
    t * x * y - s * z,
    t * x * z + s * y,
    t * x * y + s * z,
    t * y * y + c,
    t * y * z - s * x,
    t * x * z - s * y,
    t * y * z + s * x,
    t * z * z + c,
  )
}

/**
 * The rotation vector of one rotation after another.
 *
 * @param second applied last; @param first applied first, both rad
 * @returns length below pi
 */
export function composeRotations(second: RotationVector, first: RotationVector): RotationVector {
  const m = multiply3(rotationMatrix(second), rotationMatrix(first))
  const cosine = Math.min(1, Math.max(-1, (m[0]! + m[4]! + m[8]! - 1) / 2))
  const angle = Math.acos(cosine)
  const k = angle < 1e-6 ? 0.5 : angle / (2 * Math.sin(angle))
  return [k * (m[7]! - m[5]!), k * (m[2]! - m[6]!), k * (m[3]! - m[1]!)]
}

/** The product a b of two 3 x 3 matrices, row by row. */
export function multiply3(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(9)
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 3; c++) {
      out[3 * r + c] = a[3 * r]! * b[c]! + a[3 * r + 1]! * b[3 + c]! + a[3 * r + 2]! * b[6 + c]!
    }
  }
  return out
}
