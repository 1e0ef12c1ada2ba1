import type { LeastSquaresProblem } from '../numeric/least-squares.ts'
import { invertSymmetric, solveLinear } from '../numeric/matrix.ts'
import type { AcrossProfile, RowSpan } from './across-profile.ts'

/** Which faces are seen besides the near one. */
export interface Faces {
  readonly top: boolean
  readonly under: boolean
}

/** A mean and 1 sd. */
export type Expected = readonly [number, number]

/** Grey levels by which a row's mean colour is off for reasons that are not modelled: compression, paint, light. */
const ROW_SD = 3
/**
 * Top and near face are one paint in different light, so that they differ in luma more than in chroma; the underside may
 * be bare: grey levels, 1 sd, of luma and chroma.
 */
const TOP_SD: readonly [number, number] = [40, 12]
const UNDER_SD: readonly [number, number] = [60, 40]
/** How far an edge is blurred, rows of half a px: mean and 1 sd. */
const BLUR_ROWS: Expected = [1.6, 0.5]
const LEAST_BLUR_ROWS = 0.4
/** Chroma is sampled every second px and drawn out between: a box and a triangle of 4 rows, as 1 sd. */
const CHROMA_BLUR_ROWS = 2
/** Rows are half a px high: so many tell as much as one that stands alone. */
const ROWS_TOGETHER = 2
const DERIVATIVE_STEP_ROWS = 0.1
/** A logistic curve so much steeper stays within 0.01 of the normal distribution, and is quicker to compute. */
const LOGISTIC_OF_NORMAL = 1.702

/**
 * The plank's layers in a mean profile across it, as a sum of squares. Unknowns, in rows: place of the near top edge,
 * height of the near face, blur, then the heights of top face and underside where they are seen. The faces' colours
 * are no unknowns: they follow from the edges by linear least squares.
 */
export class LayersProblem implements LeastSquaresProblem {
  readonly residualCount: number
  readonly typical: readonly number[]
  readonly #profile: AcrossProfile
  readonly #span: RowSpan
  readonly #faces: Faces
  readonly #priors: readonly Expected[]
  readonly #faceCount: number
  /** How much each face, from the lowest, differs in colour from the next. */
  readonly #faceSds: readonly (readonly [number, number])[]
  /** How much of each row belongs to what lies below, to each face, and to what lies above: in luma and in chroma. */
  readonly #shares: readonly [Float64Array, Float64Array]

  /**
   * @param profile mean colours of a stretch; only rows of `span` count
   * @param span see `profile`
   * @param faces which are seen
   * @param heights of near face, top face and underside as expected, rows; those not seen do not count
   */
  constructor(profile: AcrossProfile, span: RowSpan, faces: Faces, heights: readonly [Expected, Expected, Expected]) {
    const [thickness, top, under] = heights
    this.#profile = profile
    this.#span = span
    this.#faces = faces
    this.#priors = [thickness, BLUR_ROWS, ...(faces.top ? [top] : []), ...(faces.under ? [under] : [])]
    this.#faceCount = this.#priors.length - 1
    const count = (this.#faceCount + 2) * (span[1] - span[0])
    this.#shares = [new Float64Array(count), new Float64Array(count)]
    this.#faceSds = [...(faces.under ? [UNDER_SD] : []), ...(faces.top ? [TOP_SD] : [])]
    this.residualCount = 3 * (span[1] - span[0]) + this.#priors.length + 3 * this.#faceSds.length
    this.typical = [1, ...this.#priors.map(() => 1)]
  }

  /** Unknowns to start from, with the near top edge at a given row. */
  start(nearRow: number, leastHeightRows: number): Float64Array {
    return Float64Array.of(nearRow, ...this.#priors.map(([m]) => Math.max(leastHeightRows, m)))
  }

  /** Heights of near face, top face and underside, rows; 0 for one that is not seen. */
  heights(unknowns: ArrayLike<number>): readonly [number, number, number] {
    const { top, under } = this.#faces
    return [positive(unknowns[1]!), top ? positive(unknowns[3]!) : 0, under ? positive(unknowns[top ? 4 : 3]!) : 0]
  }

  /** The near face's colour that goes best with the unknowns: luma and both chromas. */
  nearColour(unknowns: Float64Array): readonly [number, number, number] {
    this.#writeShares(unknowns)
    const colours = this.#colours()
    const at = this.#faces.under ? 3 : 0
    return [colours[at]!, colours[at + 1]!, colours[at + 2]!]
  }

  residuals(unknowns: Float64Array, into: Float64Array): void {
    const [from, to] = this.#span
    const rows = to - from
    this.#writeShares(unknowns)
    const colours = this.#colours()
    const { seen, below, above } = this.#profile
    const n = this.#faceCount
    for (let row = 0; row < rows; row++) {
      const at = row * (n + 2)
      for (let c = 0; c < 3; c++) {
        const shares = this.#shares[c === 0 ? 0 : 1]
        const i = 3 * (from + row) + c
        let expected = shares[at]! * below[i]! + shares[at + n + 1]! * above[i]!
        for (let face = 0; face < n; face++) expected += shares[at + 1 + face]! * colours[3 * face + c]!
        into[3 * row + c] = (seen[i]! - expected) / ROW_SD
      }
    }
    this.#priors.forEach(([m, sd], k) => {
      into[3 * rows + k] = (unknowns[k + 1]! - m) / sd
    })
    this.#faceSds.forEach((sd, face) => {
      for (let c = 0; c < 3; c++) {
        const difference = colours[3 * face + 3 + c]! - colours[3 * face + c]!
        into[3 * rows + this.#priors.length + 3 * face + c] = difference / sd[c === 0 ? 0 : 1]
      }
    })
  }

  /** How well a sum of unknowns, with weights, is known from the picture alone: rows, 1 sd. */
  sdFrom(unknowns: Float64Array, sumOfSquares: number): (weights: readonly number[]) => number {
    const n = unknowns.length
    const pictureCount = 3 * (this.#span[1] - this.#span[0])
    const slopes = Array.from(unknowns, (_, k) => this.#slope(unknowns, k))
    const information = new Float64Array(n * n)
    for (let a = 0; a < n; a++) {
      for (let b = 0; b < n; b++) {
        let sum = 0
        for (let i = 0; i < pictureCount; i++) sum += slopes[a]![i]! * slopes[b]![i]!
        information[a * n + b] = sum
      }
    }
    information[2 * n + 2]! += 1 / BLUR_ROWS[1] ** 2
    const covariance = invertSymmetric(information, n)
    const free = Math.max(1, pictureCount - n - 3 * this.#faceCount)
    const variance = ROWS_TOGETHER * Math.max(1, sumOfSquares / free)
    return (weights) => {
      if (covariance === null) return Infinity
      let sum = 0
      weights.forEach((a, i) => weights.forEach((b, j) => (sum += a * b * covariance[i * n + j]!)))
      return Math.sqrt(variance * sum)
    }
  }

  #slope(unknowns: Float64Array, k: number): Float64Array {
    const [ahead, behind] = [DERIVATIVE_STEP_ROWS, -DERIVATIVE_STEP_ROWS].map((step) => {
      const out = new Float64Array(this.residualCount)
      this.residuals(
        unknowns.map((value, index) => (index === k ? value + step : value)),
        out,
      )
      return out
    }) as [Float64Array, Float64Array]
    return ahead.map((value, i) => (value - behind[i]!) / (2 * DERIVATIVE_STEP_ROWS))
  }

  #writeShares(unknowns: Float64Array): void {
    const near = unknowns[0]!
    const [thickness, top, under] = this.heights(unknowns)
    const blur = Math.max(LEAST_BLUR_ROWS, unknowns[2]!)
    const edges: number[] = []
    if (this.#faces.under) edges.push(near - thickness - under)
    edges.push(near - thickness, near)
    if (this.#faces.top) edges.push(near + top)
    const [from, to] = this.#span
    for (const [k, shares] of this.#shares.entries()) {
      const steepness = LOGISTIC_OF_NORMAL / (k === 0 ? blur : Math.hypot(blur, CHROMA_BLUR_ROWS))
      for (let row = from, at = 0; row < to; row++) {
        let over = 1
        for (const edge of edges) {
          const next = 1 / (1 + Math.exp(-steepness * (row - edge)))
          shares[at++] = over - next
          over = next
        }
        shares[at++] = over
      }
    }
  }

  /** The faces' colours that go best with the shares, three numbers a face. */
  #colours(): Float64Array {
    const n = this.#faceCount
    const colours = new Float64Array(3 * n)
    for (let c = 0; c < 3; c++) {
      const solved = this.#oneColour(c)
      for (let face = 0; face < n; face++) colours[3 * face + c] = solved?.[face] ?? 0
    }
    return colours
  }

  /** Luma (0) or one of both chromas of each face. */
  #oneColour(c: number): Float64Array | null {
    const { seen, below, above } = this.#profile
    const [from, to] = this.#span
    const n = this.#faceCount
    const shares = this.#shares[c === 0 ? 0 : 1]
    const normal = new Float64Array(n * n)
    const right = new Float64Array(n)
    for (let row = 0; row < to - from; row++) {
      const at = row * (n + 2)
      const i = 3 * (from + row) + c
      const rest = seen[i]! - shares[at]! * below[i]! - shares[at + n + 1]! * above[i]!
      for (let a = 0; a < n; a++) {
        const share = shares[at + 1 + a]!
        for (let b = 0; b < n; b++) normal[a * n + b]! += share * shares[at + 1 + b]!
        right[a]! += share * rest
      }
    }
    for (let a = 0; a < n; a++) normal[a * n + a]! += 1e-6
    this.#faceSds.forEach((sd, a) => {
      const likeness = (ROW_SD / sd[c === 0 ? 0 : 1]) ** 2
      normal[a * n + a]! += likeness
      normal[(a + 1) * n + a + 1]! += likeness
      normal[a * n + a + 1]! -= likeness
      normal[(a + 1) * n + a]! -= likeness
    })
    return solveLinear(normal, right, n)
  }
}

/** A height as it is, but never below 0 and smooth: a face cannot be seen from behind. */
function positive(rows: number): number {
  return (rows + Math.hypot(rows, 1)) / 2
}
