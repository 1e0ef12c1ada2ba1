import type { Marks } from '../../analysis/board/marks.ts'
import type { ImagePx } from '../../analysis/geometry/points.ts'
import { readJsonFile } from './json-file.ts'
import { JsonObject, parsed, type NumberRule, type Parsed } from './json-object.ts'

const frameRule: NumberRule = { unit: '', min: 0, max: 10_000_000 }
/** A mark may lie a little outside the picture, where an end is just cut off. */
const pointRule: NumberRule = { unit: 'px', min: -20_000, max: 40_000 }
/** Two ends closer than this cannot be a plank that is worth measuring. */
const minPlankPx = 40

/** The marks in a file of schema `marks/1`. */
export async function readMarksFile(path: string): Promise<Parsed<Marks>> {
  const json = await readJsonFile(path)
  return json.ok ? parseMarks(json.value, path) : json
}

/** Checks a value read from `file` (its name, for messages). Unknown further fields are accepted. */
export function parseMarks(value: unknown, file: string): Parsed<Marks> {
  return parsed(() => {
    const fields = new JsonObject(file, '', value)
    const schema = fields.text('schema')
    if (schema !== 'marks/1') throw fields.fault('schema', `must be "marks/1", got "${schema}"`)
    const frames = fields.objects('frames')
    const [first, second] = frames
    if (first === undefined || frames.length > 2) {
      const rule = 'must hold one frame (the board at rest) or two (and with the exit end grounded)'
      throw fields.fault('frames', `${rule}, got ${frames.length}`)
    }
    const rest = ends(first)
    const points = first.object('points')
    const marks: Marks = {
      clip: fields.text('clip'),
      rest: {
        ...rest,
        pivot: point(points, 'pivot'),
        upContactEdge: point(points, 'upContactEdge'),
        downContactEdge: point(points, 'downContactEdge'),
      },
    }
    if (second === undefined) return marks
    const grounded = ends(second)
    if (grounded.frame === rest.frame) {
      throw second.fault('frame', `must be another frame than the resting board's, got ${grounded.frame} for both`)
    }
    return { ...marks, grounded }
  })
}

function ends(fields: JsonObject): { frame: number; entryEnd: ImagePx; exitEnd: ImagePx } {
  const frame = fields.wholeNumber('frame', frameRule)
  const points = fields.object('points')
  const entryEnd = point(points, 'entryEnd')
  const exitEnd = point(points, 'exitEnd')
  const apartPx = Math.hypot(exitEnd.xPx - entryEnd.xPx, exitEnd.yPx - entryEnd.yPx)
  if (apartPx < minPlankPx) {
    const rule = `must be at least ${minPlankPx} px from entryEnd`
    throw points.fault('exitEnd', `${rule}, got ${apartPx.toFixed(1)} px; mark both ends of the plank`)
  }
  return { frame, entryEnd, exitEnd }
}

function point(points: JsonObject, name: string): ImagePx {
  const [xPx, yPx] = points.pair(name, pointRule)
  return { xPx, yPx }
}
