import type { Field } from '../geometry/contour.ts'
import { sharesIn, type DogLikeness } from './dog-likeness.ts'
import { HEIGHTS_M, PLACE_COLUMNS, UNSEEN, type PlacedLook } from './placed-look.ts'

/** The points of a look that show the dog: positive in the field, in one piece. */
export interface DogPart {
  readonly field: Field
  /** Index of its uppermost, leftmost point. */
  readonly first: number
  readonly points: number
  /** Share of the body's usual places that it covers, 0-1. */
  readonly covered: number
  /** Share of it that may as well be something else, 0-1. */
  readonly doubtful: number
  /** Share of it where the dog is hardly ever seen, 0-1. */
  readonly unusual: number
  /** Points at which it goes on beyond what was seen. */
  readonly cutOff: number
}

/** Least and most that one point may say, as the logarithm of odds: neighbours must be able to outvote it. */
const MOST_SAID = 3.5
const LEAST_SHARE = 1 / (1 + Math.exp(MOST_SAID))
const SAID_UNSEEN = -1.5
/** Where the dog is seen in so many frames is its body; where in fewer than so many, it is hardly ever. */
const BODY_SHARE = 0.8
const RARE_SHARE = 0.06
/** Below this the plank's edge ends what is seen, m. */
const FOOT_M = 0.02

/**
 * The dog in one look: the piece that covers most of where the dog usually is.
 *
 * @param dog what the dog looks like in this stay
 * @param one the look, with places
 * @returns the piece with what speaks for and against it; null where nothing of the dog is seen
 */
export function dogPart(dog: DogLikeness, one: PlacedLook): DogPart | null {
  const { cells, columns, rows } = one
  const shares = sharesIn(dog, one)
  const said = new Float32Array(cells.length)
  for (let i = 0; i < said.length; i++) {
    const share = shares.dog[i]!
    if (cells[i] === UNSEEN) said[i] = SAID_UNSEEN
    else if (share < LEAST_SHARE) said[i] = -MOST_SAID
    else said[i] = Math.min(MOST_SAID, Math.log(share / (1 - share + 1e-6)))
  }
  const values = blurred(said, columns, rows)
  const usual = (i: number) => (cells[i]! < 0 ? 0 : dog.shape[cells[i]!]!)
  const pieces = piecesOf(values, columns)
  const best = pieces.reduce<{ piece: Int32Array; usual: number } | null>((most, piece) => {
    const sum = piece.reduce((a, i) => a + usual(i), 0)
    return most === null || sum > most.usual ? { piece, usual: sum } : most
  }, null)
  if (best === null) return null
  const { piece } = best
  const isIn = new Uint8Array(values.length)
  for (const i of piece) isIn[i] = 1
  for (let i = 0; i < values.length; i++) if (values[i]! > 0 && isIn[i] === 0) values[i] = SAID_UNSEEN
  let [body, covered, doubtful, unusual, cutOff] = [0, 0, 0, 0, 0]
  for (let i = 0; i < values.length; i++) {
    if (usual(i) < BODY_SHARE) continue
    body++
    covered += isIn[i]!
  }
  for (const i of piece) {
    doubtful += shares.others[i]!
    if (usual(i) < RARE_SHARE) unusual++
    if (isAtRim(cells, columns, rows, i)) cutOff++
  }
  return {
    field: { values, columns, rows },
    first: piece[0]!,
    points: piece.length,
    covered: body === 0 ? 0 : covered / body,
    doubtful: doubtful / piece.length,
    unusual: unusual / piece.length,
    cutOff,
  }
}

/** Whether a point lies next to what was not seen, other than at the foot. */
function isAtRim(cells: Int16Array, columns: number, rows: number, i: number): boolean {
  if (cells[i]! >= 0 && HEIGHTS_M[Math.floor(cells[i]! / PLACE_COLUMNS)]! < FOOT_M) return false
  const column = i % columns
  const row = Math.floor(i / columns)
  if (column === 0 || row === 0 || column === columns - 1 || row === rows - 1) return true
  return [i - 1, i + 1, i - columns, i + columns].some((k) => cells[k] === UNSEEN)
}

/** Each value with its neighbours, 1 2 1 in both directions. */
function blurred(values: Float32Array, columns: number, rows: number): Float32Array {
  const across = new Float32Array(values.length)
  const out = new Float32Array(values.length)
  for (let i = 0; i < values.length; i++) {
    const column = i % columns
    const before = values[column > 0 ? i - 1 : i]!
    const after = values[column < columns - 1 ? i + 1 : i]!
    across[i] = 0.5 * values[i]! + 0.25 * (before + after)
  }
  for (let i = 0; i < values.length; i++) {
    const above = across[i >= columns ? i - columns : i]!
    const below = across[i < columns * (rows - 1) ? i + columns : i]!
    out[i] = 0.5 * across[i]! + 0.25 * (above + below)
  }
  return out
}

/** The positive points in pieces that hang together by sides; each piece begins with its first point. */
function piecesOf(values: Float32Array, columns: number): Int32Array[] {
  const isTaken = new Uint8Array(values.length)
  const pieces: Int32Array[] = []
  const stack: number[] = []
  for (let start = 0; start < values.length; start++) {
    if (isTaken[start] !== 0 || values[start]! <= 0) continue
    const piece: number[] = []
    const take = (i: number) => {
      if (i < 0 || i >= values.length || isTaken[i] !== 0 || values[i]! <= 0) return
      isTaken[i] = 1
      stack.push(i)
    }
    take(start)
    for (let i = stack.pop(); i !== undefined; i = stack.pop()) {
      piece.push(i)
      const column = i % columns
      if (column > 0) take(i - 1)
      if (column < columns - 1) take(i + 1)
      take(i - columns)
      take(i + columns)
    }
    pieces.push(Int32Array.from(piece))
  }
  return pieces
}
