import { UNKNOWN_CELL } from '../dog/strip.ts'
import { applyHomography, invertHomography } from '../geometry/homography.ts'
import { BAND_M, type Look } from './look.ts'
import type { Lattice } from './surroundings.ts'

/** Deviations are kept in tenths of an sd. */
const TENTHS = 10
/**
 * How deviations are spread: of what is empty this share as expected, the rest further out (shares and a floor, so that
 * nothing is impossible); of what is not empty evenly over this many sds. Ours, chosen on drawn rides.
 */
const EMPTY = { asExpected: 0.9, further: 0.1, floor: 0.0004 } as const
const FILLED = { overSds: 12, floor: 0.002 } as const
/** Odds at which a point counts as half strange in telling a person; columns with fewer points tell nothing. */
const HALF_STRANGE_ODDS = 3
const FEWEST_IN_COLUMN = 4

/** A look while the dog is on the plank, and where the dog was measured to be. */
export interface DogLook {
  readonly look: Look
  /** Body centre, rearmost and foremost paw, m along. */
  readonly bodyM: number
  readonly rearM: number
  readonly leadM: number
}

/** Places about the dog's body: a grid of cells that goes with it along the plank. */
const CELL_M = 0.02
const REACH_M = 1
const LOWEST_M = -0.02
export const PLACE_COLUMNS = 100
export const PLACE_ROWS = 58
/** Cells of points that are too far from the body to be of the dog, and of points where nothing was seen. */
export const ELSEWHERE = -1
export const UNSEEN = -2

/** The points of a look about the dog's body, by where they are about it: a window of the lattice, row by row. */
export interface PlacedLook {
  readonly fromColumn: number
  readonly fromRow: number
  readonly columns: number
  readonly rows: number
  /** The cell of each point, or `ELSEWHERE`, or `UNSEEN`. */
  readonly cells: Int16Array
  /** How far each point speaks for something before the scene, as odds. */
  readonly odds: Float32Array
  /** As `colourCode`. */
  readonly colours: Uint16Array
  /** Rearmost and foremost paw, m ahead of the body's centre. */
  readonly rearAheadM: number
  readonly leadAheadM: number
  /**
   * How likely a person is in each column, 0-1, by what is seen high above and below the plank: at the height of its
   * legs, hips and shoulders.
   */
  readonly people: readonly [Float32Array, Float32Array, Float32Array]
}

/** Height over the plank of the middle of each row of cells, m. */
export const HEIGHTS_M = Float32Array.from({ length: PLACE_ROWS }, (_, row) => LOWEST_M + (row + 0.5) * CELL_M)
/** How far ahead of the body's centre the middle of each column of cells is, m. */
export const AHEAD_M = Float32Array.from({ length: PLACE_COLUMNS }, (_, column) => (column + 0.5) * CELL_M - REACH_M)

/** Higher than most dogs' backs over the plank, and lower than most heads of people beside it, m. */
const TALL_M = { from: 0.72, to: 1.15 }
/** Below the plank, where no dog is, m; and how high over the ground it must be for no shadow to fall there. */
const BELOW_M = { from: -0.28, to: -0.1 }
const CLEAR_OF_GROUND_M = 0.35
/** Less than this share of a column strange there is noise, or a raised head; more than the second is somebody. */
const PERSON_COLUMN = { least: 0.25, sure: 0.6 }
/** How far to either side of what is seen there a person's legs, hips and shoulders are, m. */
const PERSON_REACH_M = [0.45, 0.25, 0.1] as const

/** Less strange than this no point needs a second look, tenths of sd. */
const CALM = 12
/** What is empty mostly differs by so much, sd: what is expected is known better than it says. */
const EMPTY_SD = 0.75

/**
 * How far deviation speaks for something that stands before the scene, as odds, by tenths of sd: what is empty mostly
 * differs by less than one sd, what is not by anything.
 */
const ODDS = Float32Array.from({ length: UNKNOWN_CELL }, (_, tenths) => {
  // Nothing is emptier than what differs as usual.
  const sd = Math.max(EMPTY_SD, tenths / TENTHS)
  const empty =
    (EMPTY.asExpected * sd * Math.exp(-0.5 * (sd / EMPTY_SD) ** 2)) / EMPTY_SD ** 2 +
    EMPTY.further * Math.exp(-sd) +
    EMPTY.floor
  return (Math.exp(-sd / FILLED.overSds) / FILLED.overSds + FILLED.floor) / empty
})

/**
 * How far a deviation speaks for something that stands before the scene.
 *
 * @param tenths of sd, 0-254
 * @returns odds
 */
export function oddsOf(tenths: number): number {
  return ODDS[tenths]!
}

/**
 * Finds the place about the dog's body of each point of a look, and where people probably stand.
 *
 * @param one the look, with where the dog is
 * @param lattice the points of the look
 * @returns the part of the look about the body
 */
export function placed(one: DogLook, lattice: Lattice): PlacedLook {
  const { look, bodyM } = one
  const p = look.plankFromImage
  const window = windowAbout(one, lattice)
  const { fromColumn, fromRow, columns, rows } = window
  const { deviation, columns: lookColumns } = look
  const { x0Px, y0Px, stepPx } = lattice
  const cells = new Int16Array(columns * rows).fill(UNSEEN)
  const colours = new Uint16Array(columns * rows)
  const odds = new Float32Array(columns * rows)
  const tall = { strange: new Float32Array(columns), seen: new Float32Array(columns) }
  const below = { strange: new Float32Array(columns), seen: new Float32Array(columns) }
  const clearFromM = clearOfGround(look)
  for (let row = 0, i = 0; row < rows; row++) {
    const yPx = y0Px + (fromRow + row) * stepPx
    let at = (fromRow - look.fromRow + row) * lookColumns + fromColumn - look.fromColumn
    for (let column = 0; column < columns; column++, i++, at++) {
      const here = deviation[at]!
      if (here === UNKNOWN_CELL) continue
      const xPx = x0Px + (fromColumn + column) * stepPx
      const w = 1 / (p[6]! * xPx + p[7]! * yPx + p[8]!)
      const alongM = (p[0]! * xPx + p[1]! * yPx + p[2]!) * w
      const aboveM = (p[3]! * xPx + p[4]! * yPx + p[5]!) * w
      const across = Math.floor((alongM - bodyM + REACH_M) / CELL_M)
      const up = Math.floor((aboveM - LOWEST_M) / CELL_M)
      const isNear = across >= 0 && across < PLACE_COLUMNS && up >= 0 && up < PLACE_ROWS
      cells[i] = isNear ? up * PLACE_COLUMNS + across : ELSEWHERE
      colours[i] = look.colours[at]!
      const odd = here < CALM ? ODDS[here]! : oddsAt(deviation, lookColumns, at)
      odds[i] = odd
      if (aboveM < BELOW_M.to) {
        if (aboveM < BELOW_M.from || alongM < clearFromM[0] || alongM > clearFromM[1]) continue
        below.strange[column]! += odd / (odd + HALF_STRANGE_ODDS)
        below.seen[column]!++
      } else if (aboveM > TALL_M.from && aboveM < TALL_M.to) {
        tall.strange[column]! += odd / (odd + HALF_STRANGE_ODDS)
        tall.seen[column]!++
      }
    }
  }
  const person = tall.seen.map((_, column) => Math.max(personShare(tall, column), personShare(below, column)))
  const [legs, hips, shoulders] = PERSON_REACH_M.map((reachM) => widened(person, reachM / lattice.stepM))
  return {
    ...window,
    cells,
    colours,
    odds,
    rearAheadM: one.rearM - bodyM,
    leadAheadM: one.leadM - bodyM,
    people: [legs!, hips!, shoulders!],
  }
}

/** How likely a person is in a column by how much of it is strange. */
function personShare(
  { strange, seen }: { readonly strange: Float32Array; readonly seen: Float32Array },
  column: number,
): number {
  if (seen[column]! < FEWEST_IN_COLUMN) return 0
  const { least, sure } = PERSON_COLUMN
  return Math.max(0, Math.min(1, (strange[column]! / seen[column]! - least) / (sure - least)))
}

/** From where to where along the plank what is below it lies clear of the ground, m. */
function clearOfGround({ endsHeightM: [entryM, exitM], lengthM }: Look): readonly [number, number] {
  const isClear = (heightM: number) => heightM > CLEAR_OF_GROUND_M
  const at = (lengthM * (CLEAR_OF_GROUND_M - entryM)) / (exitM - entryM)
  return [isClear(entryM) ? -Infinity : at, isClear(exitM) ? Infinity : at]
}

/** The part of a look's window that lies within reach of the body. */
function windowAbout({ look, bodyM }: DogLook, lattice: Lattice) {
  const imageFromPlank = invertHomography(look.plankFromImage)
  const corners = [bodyM - REACH_M, bodyM + REACH_M].flatMap((alongM) =>
    [BAND_M.from, BAND_M.to].map((aboveM) => applyHomography(imageFromPlank, alongM, aboveM)),
  )
  const columnsAt = corners.map(([xPx]) => Math.round((xPx - lattice.x0Px) / lattice.stepPx))
  const rowsAt = corners.map(([, yPx]) => Math.round((yPx - lattice.y0Px) / lattice.stepPx))
  const fromColumn = Math.max(look.fromColumn, Math.min(...columnsAt))
  const fromRow = Math.max(look.fromRow, Math.min(...rowsAt))
  const columns = Math.min(look.fromColumn + look.columns - 1, Math.max(...columnsAt)) - fromColumn + 1
  const rows = Math.min(look.fromRow + look.rows - 1, Math.max(...rowsAt)) - fromRow + 1
  return { fromColumn, fromRow, columns: Math.max(0, columns), rows: Math.max(0, rows) }
}

/**
 * The odds of one point of a look. At a border the picture passes from one to the other: what is not half as strange
 * as its neighbour lies outside.
 */
function oddsAt(deviation: Uint8Array, columns: number, at: number): number {
  const here = deviation[at]!
  let most = here
  for (let beside = at - columns - 1; beside <= at + columns - 1; beside += columns) {
    for (let i = beside; i < beside + 3; i++) {
      const there = deviation[i]
      if (there !== undefined && there !== UNKNOWN_CELL && there > most) most = there
    }
  }
  if (2 * here >= most) return ODDS[here]!
  const share = (2 * here) / most
  return ODDS[Math.round(here * share * share)]!
}

/** Each value spread to both sides, fading with the distance, the largest counting. */
function widened(values: Float32Array, reach: number): Float32Array {
  const whole = Math.ceil(reach)
  const out = new Float32Array(values.length)
  values.forEach((value, at) => {
    if (value === 0) return
    for (let k = Math.max(0, at - whole); k <= Math.min(values.length - 1, at + whole); k++)
      out[k] = Math.max(out[k]!, value * (1 - Math.abs(k - at) / (whole + 1)))
  })
  return out
}
