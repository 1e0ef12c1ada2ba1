import { z } from 'zod'
import type { Estimate } from '../../../analysis/estimate.ts'
import { CRITERION_HOLD_S, dayNumber } from '../../../analysis/progress/season.ts'
import { estimateShape, numberIn } from '../../files/field-shapes.ts'
import { brokenRule, shown } from '../../files/parsed.ts'

/** The format `tiphold.rides/1`: rides of any origin, unknown fields allowed everywhere, absent = unknown. */

const text = z.string()
const name = text.trim().min(1, 'is empty; give a name').max(200, 'is longer than 200 characters')
const day = text.refine((value) => dayNumber(value) !== null, {
  error: ({ input }) => `must be a calendar day such as "2026-05-14", got ${shown(input)}`,
})

/** Named values; what is no estimate (a list of pauses, a yes or no) is left to others. */
const estimates = z.record(z.string(), z.unknown()).transform((fields, context) => {
  const known: Record<string, Estimate> = {}
  for (const [field, value] of Object.entries(fields)) {
    if (typeof value !== 'object' || value === null || Array.isArray(value) || !('kind' in value)) continue
    const read = estimateShape.safeParse(value, { error: brokenRule })
    if (read.success) known[field] = read.data
    else
      for (const { path, message } of read.error.issues)
        context.addIssue({ code: 'custom', path: [field, ...path], message })
  }
  return known
})

const zoneVerdict = z.enum(['touched', 'missed', 'unsure'])

/** One ride of a rides file. */
const ride = z.looseObject({
  dog: name,
  board: name.nullish(),
  day: day.nullish(),
  purpose: z.enum(['training', 'show']).nullish(),
  surface: text.nullish(),
  byHand: z.boolean().nullish(),
  events: estimates.nullish(),
  measures: estimates.nullish(),
  zones: z
    .looseObject({
      up: z.looseObject({ verdict: zoneVerdict.nullish() }).nullish(),
      down: z
        .looseObject({
          verdict: zoneVerdict.nullish(),
          touchedAfterGround: z.enum(['yes', 'no', 'unsure']).nullish(),
        })
        .nullish(),
    })
    .nullish(),
  leaving: z
    .looseObject({
      verdict: z.enum(['after-ground', 'before-ground', 'before-tip', 'too-close', 'not-seen']).nullish(),
    })
    .nullish(),
})
export type FiledRide = z.infer<typeof ride>

/** What a dog is trained to do at the end of the plank: an addition of ours to the format. */
const criterion = z.looseObject({
  position: z.enum(['four-on', '2o2o', 'running']),
  holdAfterGroundS: numberIn(CRITERION_HOLD_S, 's').default(0),
})

export const ridesFormat = z.looseObject({
  schema: z.literal('tiphold.rides/1'),
  dogs: z.array(z.looseObject({ name, criterion: criterion.nullish() })).nullish(),
  boards: z.array(z.looseObject({ name, material: text.nullish(), feelS: estimateShape.optional() })).nullish(),
  rides: z.array(ride),
})
export type RidesFile = z.infer<typeof ridesFormat>
