import { z } from 'zod'
import type { Marks } from '../../analysis/board/marks.ts'
import { FRAME_LIMITS, POINT_LIMITS_PX, SHORTEST_PLANK_PX } from '../../analysis/board/marks-limits.ts'
import type { ImagePx } from '../../analysis/geometry/points.ts'
import { numberIn, pairOf, wholeNumberIn } from './field-shapes.ts'
import { readJsonFile } from './json-file.ts'
import { parsedAs, type Parsed } from './parsed.ts'

const frame = wholeNumberIn(FRAME_LIMITS)
const point = pairOf(numberIn(POINT_LIMITS_PX, 'px')).transform(({ x, y }): ImagePx => ({ xPx: x, yPx: y }))
const ends = { entryEnd: point, exitEnd: point }

const apart = (
  { entryEnd, exitEnd }: { readonly entryEnd: ImagePx; readonly exitEnd: ImagePx },
  context: z.RefinementCtx,
): void => {
  const apartPx = Math.hypot(exitEnd.xPx - entryEnd.xPx, exitEnd.yPx - entryEnd.yPx)
  if (apartPx >= SHORTEST_PLANK_PX) return
  const rule = `must be at least ${SHORTEST_PLANK_PX} px from entryEnd`
  const message = `${rule}, got ${apartPx.toFixed(1)} px; mark both ends of the plank`
  context.addIssue({ code: 'custom', path: ['exitEnd'], message })
}

const restShape = z.object({
  frame,
  points: z.object({ ...ends, pivot: point, upContactEdge: point, downContactEdge: point }).superRefine(apart),
})
const groundedShape = z.object({ frame, points: z.object(ends).superRefine(apart) })

/** Schema `marks/1`. Unknown further fields are accepted and passed over. */
const marksShape = z
  .object({
    schema: z.literal('marks/1'),
    clip: z.string(),
    frames: z.tuple([restShape, groundedShape.optional()], {
      error: ({ code, input }) =>
        code === 'too_small' || code === 'too_big'
          ? `must hold one frame (the board at rest) or two (and with the exit end grounded), got ${(input as readonly unknown[]).length}`
          : undefined,
    }),
  })
  .superRefine(({ frames: [rest, grounded] }, context) => {
    if (grounded?.frame !== rest.frame) return
    const message = `must be another frame than the resting board's, got ${rest.frame} for both`
    context.addIssue({ code: 'custom', path: ['frames', 1, 'frame'], message })
  })
  .transform(({ clip, frames: [rest, grounded] }): Marks => ({
    clip,
    rest: { frame: rest.frame, ...rest.points },
    ...(grounded === undefined ? {} : { grounded: { frame: grounded.frame, ...grounded.points } }),
  }))

/** The marks in a file of schema `marks/1`. */
export async function readMarksFile(path: string): Promise<Parsed<Marks>> {
  const json = await readJsonFile(path)
  return json.ok ? parseMarks(json.value, path) : json
}

/** Checks a value read from `file` (its name, for messages). */
export function parseMarks(value: unknown, file: string): Parsed<Marks> {
  return parsedAs(marksShape, value, file)
}
