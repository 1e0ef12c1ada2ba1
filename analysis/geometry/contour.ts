/** Values on a grid of points, row by row. */
export interface Field {
  readonly values: Float32Array
  readonly columns: number
  readonly rows: number
}

/** A point of a grid: column and row, fractions allowed. */
export type GridPoint = readonly [column: number, row: number]

/** The sides of a square between four points: where a line comes in and goes out. */
const TOP = 0
const RIGHT = 1
const BOTTOM = 2
const LEFT = 3

/**
 * Where the line leaves a square that it entered by a side, by which of its corners are inside (upper left 8, upper
 * right 4, lower right 2, lower left 1). Corners that touch only over a diagonal are kept apart.
 */
const EXITS: readonly Readonly<Record<number, number>>[] = [
  {},
  { [BOTTOM]: LEFT },
  { [RIGHT]: BOTTOM },
  { [RIGHT]: LEFT },
  { [TOP]: RIGHT },
  { [TOP]: RIGHT, [BOTTOM]: LEFT },
  { [TOP]: BOTTOM },
  { [TOP]: LEFT },
  { [LEFT]: TOP },
  { [BOTTOM]: TOP },
  { [LEFT]: TOP, [RIGHT]: BOTTOM },
  { [RIGHT]: TOP },
  { [LEFT]: RIGHT },
  { [BOTTOM]: RIGHT },
  { [LEFT]: BOTTOM },
  {},
]

/** What lies beyond the grid. */
const OUTSIDE = -1

/**
 * The outer border of the part of a field that holds a point: where the values pass through 0, linear between points
 * (marching squares, after Lorensen and Cline 1987 in the plane). Holes are left out.
 *
 * @param field positive inside; beyond the grid it counts as outside
 * @param first index of the part's first point in the order of the field: its uppermost, then leftmost
 * @returns the closed line's points, in order, the last one joined to the first
 * @example outerBorder({ values: Float32Array.of(1), columns: 1, rows: 1 }, 0) // [[0, 0.5], [-0.5, 0], [0, -0.5], [0.5, 0]]
 */
export function outerBorder(field: Field, first: number): GridPoint[] {
  const { values, columns, rows } = field
  const at = (column: number, row: number): number =>
    column < 0 || row < 0 || column >= columns || row >= rows ? OUTSIDE : values[row * columns + column]!
  const between = (column: number, row: number, isAcross: boolean): GridPoint => {
    const here = at(column, row)
    const share = here / (here - at(isAcross ? column + 1 : column, isAcross ? row : row + 1))
    return isAcross ? [column + share, row] : [column, row + share]
  }
  const startColumn = (first % columns) - 1
  const startRow = Math.floor(first / columns) - 1
  const points: GridPoint[] = []
  let column = startColumn
  let row = startRow
  let side = RIGHT
  do {
    const corners =
      (at(column, row) > 0 ? 8 : 0) |
      (at(column + 1, row) > 0 ? 4 : 0) |
      (at(column + 1, row + 1) > 0 ? 2 : 0) |
      (at(column, row + 1) > 0 ? 1 : 0)
    switch (EXITS[corners]![side]) {
      case TOP:
        points.push(between(column, row, true))
        row--
        side = BOTTOM
        break
      case RIGHT:
        points.push(between(column + 1, row, false))
        column++
        side = LEFT
        break
      case BOTTOM:
        points.push(between(column, row + 1, true))
        row++
        side = TOP
        break
      case LEFT:
        points.push(between(column, row, false))
        column--
        side = RIGHT
        break
      default:
        throw new Error('The border of a field must begin at the first point of a part.')
    }
  } while (column !== startColumn || row !== startRow || side !== RIGHT)
  return points
}

/**
 * A closed line with fewer points, nowhere further from the first than a tolerance (Douglas and Peucker 1973, from the
 * first point to the one furthest from it and back).
 *
 * @param line points in order, the last one joined to the first
 * @param tolerance in the points' unit
 * @returns some of the line's points, in the same order
 * @example simplified([[0, 0], [1, 0.1], [2, 0], [2, 2], [0, 2]], 0.2) // [[0, 0], [2, 0], [2, 2], [0, 2]]
 */
export function simplified(line: readonly GridPoint[], tolerance: number): GridPoint[] {
  const start = line[0]
  if (start === undefined) return []
  let furthest = 0
  line.forEach((point, k) => {
    if (distance(point, start) > distance(line[furthest]!, start)) furthest = k
  })
  const there = thinned(line.slice(0, furthest + 1), tolerance)
  const back = thinned([...line.slice(furthest), start], tolerance)
  return [...there.slice(0, -1), ...back.slice(0, -1)]
}

/** An open line with its ends and as few points between them as keep it within the tolerance. */
function thinned(line: readonly GridPoint[], tolerance: number): readonly GridPoint[] {
  const [from, to] = [line[0]!, line[line.length - 1]!]
  const long = distance(from, to)
  let worst = 0
  let off = tolerance
  for (let k = 1; k < line.length - 1; k++) {
    const [x, y] = line[k]!
    const cross = (x - from[0]) * (to[1] - from[1]) - (y - from[1]) * (to[0] - from[0])
    const away = long === 0 ? distance(line[k]!, from) : Math.abs(cross) / long
    if (away > off) {
      worst = k
      off = away
    }
  }
  if (worst === 0) return [from, to]
  return [...thinned(line.slice(0, worst + 1), tolerance).slice(0, -1), ...thinned(line.slice(worst), tolerance)]
}

function distance(a: GridPoint, b: GridPoint): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1])
}
