import { z } from 'zod'
import { Z95, type Estimate, type Measured } from '../../analysis/estimate.ts'
import { dayNumber } from '../../analysis/progress/season.ts'

/** The format `tiphold.rides/1`: rides of any origin, unknown fields allowed everywhere, absent = unknown. */

/** An object whose further fields are kept. */
const object = <Shape extends z.ZodRawShape>(shape: Shape) => z.looseObject(shape, 'must be an object { ... }')
const text = z.string('must be text in quotes')
const number = z.number('must be a number')
const name = text.trim().min(1, 'is empty; give a name').max(200, 'is longer than 200 characters')

const measured = object({
  kind: z.literal('measured'),
  value: number,
  sd: number.min(0, 'must not be negative').optional(),
  ci95: z.tuple([number, number], 'must be two numbers [from, to]').optional(),
})
  .superRefine(({ sd, ci95 }, context) => {
    if (sd === undefined && ci95 === undefined) context.addIssue('needs sd or ci95')
    if (ci95 !== undefined && ci95[0] > ci95[1]) context.addIssue('has a ci95 whose ends are the wrong way round')
  })
  .transform(({ kind, value, sd, ci95 }): Measured => {
    const spread = sd ?? (ci95![1] - ci95![0]) / (2 * Z95)
    return { kind, value, sd: spread, ci95: ci95 ?? [value - Z95 * spread, value + Z95 * spread] }
  })
const atLeast = object({ kind: z.literal('atLeast'), value: number })
const withheld = object({ kind: z.literal('withheld'), reason: text.optional(), detail: text.optional() })

const estimate = z
  .discriminatedUnion(
    'kind',
    [measured, atLeast, withheld],
    'must be { "kind": "measured", "atLeast" or "withheld", ... }',
  )
  .transform((told): Estimate => {
    if (told.kind === 'measured') return told
    if (told.kind === 'atLeast') return { kind: 'atLeast', value: told.value }
    return { kind: 'withheld', reason: 'not-seen', detail: told.detail ?? told.reason ?? '' }
  })

/** Named values; what is no estimate (a list of pauses, a yes or no) is left to others. */
const estimates = z.record(z.string(), z.unknown(), 'must be an object { ... }').transform((fields, context) => {
  const known: Record<string, Estimate> = {}
  for (const [field, value] of Object.entries(fields)) {
    if (typeof value !== 'object' || value === null || Array.isArray(value) || !('kind' in value)) continue
    const read = estimate.safeParse(value)
    if (read.success) known[field] = read.data
    else
      for (const issue of read.error.issues)
        context.addIssue({ code: 'custom', path: [field, ...issue.path], message: issue.message })
  }
  return known
})

const zoneVerdict = z.enum(['touched', 'missed', 'unsure'], 'must be "touched", "missed" or "unsure"')
const day = text.refine((value) => dayNumber(value) !== null, 'must be a calendar day such as "2026-05-14"')

/** One ride of a rides file. */
const ride = object({
  dog: name,
  board: name.nullish(),
  day: day.nullish(),
  purpose: z.enum(['training', 'show'], 'must be "training" or "show"').nullish(),
  surface: text.nullish(),
  byHand: z.boolean('must be true or false').nullish(),
  events: estimates.nullish(),
  measures: estimates.nullish(),
  zones: object({
    up: object({ verdict: zoneVerdict.nullish() }).nullish(),
    down: object({
      verdict: zoneVerdict.nullish(),
      touchedAfterGround: z.enum(['yes', 'no', 'unsure'], 'must be "yes", "no" or "unsure"').nullish(),
    }).nullish(),
  }).nullish(),
  leaving: object({
    verdict: z
      .enum(['after-ground', 'before-ground', 'before-tip', 'too-close', 'not-seen'], 'is no leaving verdict')
      .nullish(),
  }).nullish(),
})
export type FiledRide = z.infer<typeof ride>

/** What a dog is trained to do at the end of the plank: an addition of ours to the format. */
const criterion = object({
  position: z.enum(['four-on', '2o2o', 'running'], 'must be "four-on", "2o2o" or "running"'),
  holdAfterGroundS: number.min(0, 'must not be negative').max(60, 'must be 60 s at most').default(0),
})

export const ridesFormat = object({
  schema: z.literal('tiphold.rides/1', 'must be "tiphold.rides/1"'),
  dogs: z.array(object({ name, criterion: criterion.nullish() }), 'must be a list [ ... ]').nullish(),
  boards: z.array(object({ name, material: text.nullish() }), 'must be a list [ ... ]').nullish(),
  rides: z.array(ride, 'must be a list [ ... ]'),
})
export type RidesFile = z.infer<typeof ridesFormat>
