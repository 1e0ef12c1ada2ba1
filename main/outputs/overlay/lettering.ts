import type { Frame } from '../../../analysis/clip/frame.ts'
import { paintLine, type Spot, type Yuv } from './paint.ts'

/**
 * Letters for captions, drawn as strokes of a pen, so that no font has to be installed. A glyph is a width and strokes
 * on a grid: two base-36 digits a point, x then y; y = 0 is the height of a digit, 4 that of an x, 12 the base line.
 * A stroke begins with its kind: `/` straight lines, `~` a curve that is drawn towards the points between its ends,
 * `@` the same, closed.
 */
const glyphs: Readonly<Record<string, readonly [width: number, strokes: string]>> = {
  ' ': [3, ''],
  '0': [6, '@00606c0c'],
  '1': [6, '/13404c'],
  '2': [6, '~030060660c /0c6c'],
  '3': [6, '~0200606626 ~26666c0c0a'],
  '4': [6, '/400969 /464c'],
  '5': [6, '/601005 ~05646c0c0a'],
  '6': [6, '~500208 @05656c0c'],
  '7': [6, '/00602c'],
  '8': [6, '@00606606 @06666c0c'],
  '9': [6, '@00606707 ~646a1c'],
  '.': [1, '/0c0c'],
  '−': [6, '/0767'],
  '+': [6, '/0767 /343a'],
  '°': [4, '@00404404'],
  a: [6, '@04646c0c /646c'],
  b: [6, '/000c @04646c0c'],
  c: [5, '~5554040c5c5b'],
  d: [6, '/606c @04646c0c'],
  e: [6, '/0868 ~6864040c6c6b'],
  f: [4, '~402023 /232c /0444'],
  g: [6, '@04646c0c /646d ~6d6g0f'],
  h: [6, '/000c ~08046468 /686c'],
  i: [1, '/040c /0101'],
  l: [1, '/000c'],
  m: [8, '/040c ~07044447 /474c ~47448487 /878c'],
  n: [6, '/040c ~08046468 /686c'],
  o: [6, '@04646c0c'],
  p: [6, '/040g @04646c0c'],
  r: [4, '/040c ~080444'],
  s: [5, '~55540408585c0c0b'],
  t: [4, '/1119 ~191c4c /0444'],
  u: [6, '/0408 ~080c6c68 /646c'],
  v: [6, '/043c64'],
  w: [8, '/042c466c84'],
  y: [6, '/043c /641g'],
  A: [8, '/0c408c /2868'],
  B: [6, '/000c ~00606606 ~06666c0c'],
  C: [6, '~6260000c6c6a'],
  D: [6, '/000c ~00606c0c'],
  E: [6, '/60000c6c /0656'],
  F: [6, '/60000c /0656'],
  G: [6, '~6260000c6c67 /6736'],
  H: [6, '/000c /606c /0666'],
  I: [1, '/000c'],
  J: [6, '~606c0c09'],
  K: [6, '/000c /6007 /256c'],
  L: [6, '/000c6c'],
  M: [8, '/0c0048808c'],
  N: [6, '/0c006c60'],
  O: [7, '@00707c0c'],
  P: [6, '/000c ~00606707'],
  Q: [7, '@00707c0c /497d'],
  R: [6, '/000c ~00606707 /376c'],
  S: [6, '~62600005676c0c0a'],
  T: [6, '/0060 /303c'],
  U: [6, '/0008 ~080c6c68 /6860'],
  V: [6, '/003c60'],
  W: [10, '/002c508ca0'],
  X: [6, '/006c /600c'],
  Y: [6, '/003660 /363c'],
  Z: [6, '/00600c6c'],
  j: [2, '/242d ~2d2g0g /2121'],
  k: [5, '/000c /5409 /275c'],
  q: [6, '@04646c0c /646g'],
  x: [5, '/045c /540c'],
  z: [5, '/04540c5c'],
  ',': [1, '/1b0e'],
  ':': [1, '/0505 /0c0c'],
  '±': [6, '/0666 /3339 /0b6b'],
  '/': [5, '/500c'],
  '-': [4, '/0747'],
  '’': [1, '/0003'],
  "'": [1, '/0003'],
  '(': [2, '~2006062e'],
  ')': [2, '~0026260e'],
}

const gap = 2.4
/** Straight pieces a curve is drawn with, between two of its points. */
const curvePieces = 5

/** The width of a text whose digits are `heightPx` high. Letters that the alphabet lacks are left out. */
export function textWidthPx(text: string, heightPx: number): number {
  return [...text].reduce((sum, letter) => sum + advance(letter), -gap) * (heightPx / 12)
}

/** Writes a text whose first letter begins at `left`, on the base line `baseYPx`. */
export function paintText(
  frame: Frame,
  text: string,
  [left, baseYPx]: Spot,
  heightPx: number,
  strokePx: number,
  colour: Yuv,
): void {
  const unitPx = heightPx / 12
  let x = left
  for (const letter of text) {
    for (const stroke of strokesOf(letter)) {
      const spots = stroke.map(([gridX, gridY]): Spot => [x + gridX * unitPx, baseYPx + (gridY - 12) * unitPx])
      paintLine(frame, spots, strokePx, colour)
    }
    x += advance(letter) * unitPx
  }
}

/** Whether the alphabet has all letters of a text. */
export function canWrite(text: string): boolean {
  return [...text].every((letter) => letter in glyphs)
}

function advance(letter: string): number {
  const glyph = glyphs[letter]
  return glyph === undefined ? 0 : glyph[0] + gap
}

const strokeCache = new Map<string, readonly (readonly Spot[])[]>()

/** The strokes of a letter as straight pieces, in units of the grid. */
function strokesOf(letter: string): readonly (readonly Spot[])[] {
  const known = strokeCache.get(letter)
  if (known !== undefined) return known
  const sources = glyphs[letter]?.[1].split(' ').filter((source) => source !== '') ?? []
  const strokes = sources.map((source) => {
    const points = (source.slice(1).match(/../g) ?? []).map((pair): Spot => [
      parseInt(pair[0]!, 36),
      parseInt(pair[1]!, 36),
    ])
    if (source.startsWith('/')) return points
    return source.startsWith('@') ? closedCurve(points) : openCurve(points)
  })
  strokeCache.set(letter, strokes)
  return strokes
}

/** From the first to the last point, drawn towards those between (a quadratic B-spline). */
function openCurve(points: readonly Spot[]): readonly Spot[] {
  const inner = points.slice(1, -1)
  return inner.flatMap((towards, k) => {
    const from = k === 0 ? points[0]! : between(points[k]!, towards)
    const to = k === inner.length - 1 ? points.at(-1)! : between(towards, points[k + 2]!)
    return arc(from, towards, to)
  })
}

function closedCurve(points: readonly Spot[]): readonly Spot[] {
  const after = (k: number) => points[k % points.length]!
  return points.flatMap((_, k) =>
    arc(between(after(k), after(k + 1)), after(k + 1), between(after(k + 1), after(k + 2))),
  )
}

function arc(from: Spot, towards: Spot, to: Spot): readonly Spot[] {
  return Array.from({ length: curvePieces + 1 }, (_, piece) => {
    const t = piece / curvePieces
    return between(between(from, towards, t), between(towards, to, t), t)
  })
}

function between([fromX, fromY]: Spot, [toX, toY]: Spot, part = 0.5): Spot {
  return [fromX + part * (toX - fromX), fromY + part * (toY - fromY)]
}
