import type { Field } from '../geometry/contour.ts'
import { sharesIn, type DogLikeness } from './dog-likeness.ts'
import { HEIGHTS_M, PLACE_COLUMNS, UNSEEN, type PlacedLook } from './placed-look.ts'

/** The points of a look that show the dog: positive in the field, in one piece. */
export interface DogPart {
  /** Where the field begins in the look. */
  readonly fromColumn: number
  readonly fromRow: number
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
/** A point that is less likely the dog tells not how far it may reach. */
const MAYBE_SHARE = 0.3
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
  const { cells } = one
  const shares = sharesIn(dog, one)
  const window = windowOf(shares.dog, one)
  if (window === null) return null
  const { fromColumn, fromRow, columns, rows } = window
  /** A point's index in the look. */
  const there = (i: number) => (fromRow + Math.floor(i / columns)) * one.columns + fromColumn + (i % columns)
  const said = new Float32Array(columns * rows)
  for (let i = 0; i < said.length; i++) {
    const at = there(i)
    const share = shares.dog[at]!
    if (cells[at] === UNSEEN) said[i] = SAID_UNSEEN
    else if (share < LEAST_SHARE) said[i] = -MOST_SAID
    else said[i] = Math.min(MOST_SAID, Math.log(share / (1 - share + 1e-6)))
  }
  const values = blurred(said, columns, rows)
  const usual = (at: number) => (cells[at]! < 0 ? 0 : dog.shape[cells[at]!]!)
  let best: { piece: Int32Array; usual: number } | null = null
  for (const piece of piecesOf(values, columns)) {
    const sum = piece.reduce((a, i) => a + usual(there(i)), 0)
    if (best === null || sum > best.usual) best = { piece, usual: sum }
  }
  if (best === null) return null
  const { piece } = best
  const isIn = new Uint8Array(values.length)
  let [covered, doubtful, unusual, cutOff] = [0, 0, 0, 0]
  for (const i of piece) {
    const at = there(i)
    isIn[i] = 1
    if (usual(at) > BODY_SHARE) covered++
    else if (usual(at) < RARE_SHARE) unusual++
    doubtful += shares.others[at]!
    if (isAtRim(one, at)) cutOff++
  }
  for (let i = 0; i < values.length; i++) if (values[i]! > 0 && isIn[i] === 0) values[i] = SAID_UNSEEN
  let body = 0
  for (let at = 0; at < cells.length; at++) if (cells[at]! >= 0 && dog.shape[cells[at]!]! > BODY_SHARE) body++
  return {
    fromColumn,
    fromRow,
    field: { values, columns, rows },
    first: piece[0]!,
    points: piece.length,
    covered: body === 0 ? 0 : covered / body,
    doubtful: doubtful / piece.length,
    unusual: unusual / piece.length,
    cutOff,
  }
}

/** The part of a look in which the dog may be, with a margin; null where it is nowhere. */
function windowOf(dogShares: Float32Array, { columns, rows }: PlacedLook) {
  let [left, right, top, bottom] = [columns, -1, rows, -1]
  for (let row = 0, i = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++, i++) {
      if (dogShares[i]! < MAYBE_SHARE) continue
      left = Math.min(left, column)
      right = Math.max(right, column)
      top = Math.min(top, row)
      bottom = row
    }
  }
  if (right < 0) return null
  const fromColumn = Math.max(0, left - 2)
  const fromRow = Math.max(0, top - 2)
  return {
    fromColumn,
    fromRow,
    columns: Math.min(columns, right + 3) - fromColumn,
    rows: Math.min(rows, bottom + 3) - fromRow,
  }
}

/** Whether a point of a look lies next to what was not seen, other than at the foot. */
function isAtRim({ cells, columns, rows }: PlacedLook, i: number): boolean {
  if (cells[i]! >= 0 && HEIGHTS_M[Math.floor(cells[i]! / PLACE_COLUMNS)]! < FOOT_M) return false
  const column = i % columns
  const row = Math.floor(i / columns)
  if (column === 0 || row === 0 || column === columns - 1 || row === rows - 1) return true
  const isBesideUnseen = cells[i - 1] === UNSEEN || cells[i + 1] === UNSEEN
  return isBesideUnseen || cells[i - columns] === UNSEEN || cells[i + columns] === UNSEEN
}

/** Each value with its neighbours, 1 2 1 in both directions. */
function blurred(values: Float32Array, columns: number, rows: number): Float32Array {
  const across = new Float32Array(values.length)
  const out = new Float32Array(values.length)
  for (let row = 0, i = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++, i++) {
      const before = values[column > 0 ? i - 1 : i]!
      const after = values[column < columns - 1 ? i + 1 : i]!
      across[i] = 0.5 * values[i]! + 0.25 * (before + after)
    }
  }
  for (let i = 0; i < values.length; i++) {
    const above = across[i >= columns ? i - columns : i]!
    const below = across[i < values.length - columns ? i + columns : i]!
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
    isTaken[start] = 1
    stack.push(start)
    for (let i = stack.pop(); i !== undefined; i = stack.pop()) {
      piece.push(i)
      const column = i % columns
      const beside = [column > 0 ? i - 1 : -1, column < columns - 1 ? i + 1 : -1, i - columns, i + columns]
      for (const next of beside) {
        if (next < 0 || next >= values.length || isTaken[next] !== 0 || values[next]! <= 0) continue
        isTaken[next] = 1
        stack.push(next)
      }
    }
    pieces.push(Int32Array.from(piece))
  }
  return pieces
}
