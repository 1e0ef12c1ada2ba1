import { expect, test } from 'vitest'
import { type Field, type GridPoint, outerBorder, simplified } from '../../../analysis/geometry/contour.ts'

const SIZE = 60

/** Positive inside a shape, as signed distance from its border. */
function fieldOf(inside: (column: number, row: number) => number): { field: Field; first: number } {
  const values = Float32Array.from({ length: SIZE * SIZE }, (_, i) => inside(i % SIZE, Math.floor(i / SIZE)))
  return { field: { values, columns: SIZE, rows: SIZE }, first: values.findIndex((value) => value > 0) }
}

function area(line: readonly GridPoint[]): number {
  const twice = line.map(([x, y], k) => {
    const [nextX, nextY] = line[(k + 1) % line.length]!
    return x * nextY - nextX * y
  })
  return Math.abs(twice.reduce((a, b) => a + b, 0)) / 2
}

test('the border of a disc is a circle of its radius and area', () => {
  const { field, first } = fieldOf((column, row) => 20.3 - Math.hypot(column - 29.6, row - 30.2))
  const line = outerBorder(field, first)
  for (const [column, row] of line) expect(Math.hypot(column - 29.6, row - 30.2)).toBeCloseTo(20.3, 1)
  expect(area(line) / (Math.PI * 20.3 ** 2)).toBeCloseTo(1, 2)
})

test('a hole is left out, and so is another part', () => {
  const ring = (column: number, row: number) => 3 - Math.abs(Math.hypot(column - 25, row - 25) - 12)
  const { field, first } = fieldOf((column, row) => Math.max(ring(column, row), 2 - Math.hypot(column - 52, row - 50)))
  expect(area(outerBorder(field, first)) / (Math.PI * 15 ** 2)).toBeCloseTo(1, 2)
})

test('parts that touch only over a corner stay apart', () => {
  const values = Float32Array.of(1, -1, -1, 1)
  expect(area(outerBorder({ values, columns: 2, rows: 2 }, 0))).toBeCloseTo(0.5, 9)
})

test('what reaches the rim of the grid is closed there', () => {
  const { field, first } = fieldOf((column) => 10 - column)
  const line = outerBorder(field, first)
  // Beyond the rim counts as -1: the line lies at most one step outside.
  expect(area(line)).toBeGreaterThan(10 * SIZE)
  expect(area(line)).toBeLessThan(11 * (SIZE + 1))
  expect(Math.min(...line.map(([column]) => column))).toBeGreaterThan(-1)
})

test('a simplified circle has few points, none of them further off than the tolerance', () => {
  const { field, first } = fieldOf((column, row) => 20 - Math.hypot(column - 30, row - 30))
  const line = outerBorder(field, first)
  const few = simplified(line, 0.5)
  expect(few.length).toBeLessThan(line.length / 5)
  // Of a chord that leaves the circle by at most 0.5, the area is known: the polygon lacks at most 4/3 x 0.5 x chord a side.
  expect(area(few) / area(line)).toBeGreaterThan(0.95)
  for (const point of few) expect(line).toContain(point)
})
