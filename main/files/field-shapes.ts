import { z } from 'zod'
import { measured, type Estimate, type Measured, type WithheldReason, Z95 } from '../../analysis/estimate.ts'
import { shown } from './parsed.ts'

/** Fields that several of our JSON files have, with the sentences that say what is wrong with them. */

/** A number from `min` to `max`, both included; `unit` is written after it in messages. */
export function numberIn({ min, max }: { readonly min: number; readonly max: number }, unit = ''): z.ZodType<number> {
  const after = unit === '' ? '' : ` ${unit}`
  return z.number().refine((value) => value >= min && value <= max, {
    error: ({ input }) => {
      const value = input as number
      const advice = unit === 'm' ? otherUnit(value, min, max) : ''
      return `must be from ${min} to ${max}${after}, got ${value}${after}${advice}`
    },
  })
}

/** A whole number from `min` to `max`, both included. */
export function wholeNumberIn(limits: { readonly min: number; readonly max: number }): z.ZodType<number> {
  return numberIn(limits).refine(Number.isInteger, {
    error: ({ input }) => `must be a whole number, got ${String(input)}`,
  })
}

/** A list of exactly two numbers, given as `x` and `y`, which faults name. */
export function pairOf(one: z.ZodType<number>): z.ZodType<{ readonly x: number; readonly y: number }> {
  return z
    .array(z.unknown())
    .refine((list) => list.length === 2, {
      error: ({ input }) => `must be two numbers [x, y], got ${(input as readonly unknown[]).length} of them`,
      abort: true,
    })
    .transform(([x, y]) => ({ x, y }))
    .pipe(z.object({ x: one, y: one }))
}

/** A field that may be absent or null, which both mean that nothing is said; without it, it is not in the value. */
export function stated<T extends object>(fields: T): { [Name in keyof T]?: Exclude<T[Name], null | undefined> } {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value != null)) as ReturnType<typeof stated<T>>
}

/** A plain number in a file; what JSON can write beyond it, such as 1e999, is none. */
const number = z.number()
const text = z.string()

export const measuredShape = z
  .looseObject({
    kind: z.literal('measured'),
    value: number,
    sd: number.refine((sd) => sd >= 0, { error: ({ input }) => `must not be negative, got ${shown(input)}` }).nullish(),
    ci95: z.tuple([number, number], 'must be two numbers [from, to]').nullish(),
  })
  .superRefine(({ sd, ci95 }, context) => {
    if (sd == null && ci95 == null) context.addIssue('needs sd or ci95')
    if (ci95 != null && ci95[0] > ci95[1]) context.addIssue('has a ci95 whose ends are the wrong way round')
  })
  .transform(({ value, sd, ci95 }): Measured => {
    if (ci95 == null) return measured(value, sd!)
    return { kind: 'measured', value, sd: sd ?? (ci95[1] - ci95[0]) / (2 * Z95), ci95 }
  })

const WITHHELD: Readonly<Record<WithheldReason, true>> = {
  'still-on': true,
  'never-landed': true,
  'never-tipped': true,
  'left-before': true,
  'clip-ends': true,
  'out-of-picture': true,
  hidden: true,
  'no-sound': true,
  'not-clear': true,
  'not-seen': true,
  'not-measured-yet': true,
  damaged: true,
  'too-few': true,
}

const withheldShape = z
  .looseObject({ kind: z.literal('withheld'), reason: text.nullish(), detail: text.nullish() })
  .transform(({ reason, detail }): Estimate => ({
    kind: 'withheld',
    // Reasons of other programs are kept as sentences.
    reason: reason != null && Object.hasOwn(WITHHELD, reason) ? (reason as WithheldReason) : 'not-seen',
    detail: detail ?? reason ?? '',
  }))

/** A number with its uncertainty as any program may write it: with a spread, an interval, or both. */
export const estimateShape = z.discriminatedUnion(
  'kind',
  [
    measuredShape,
    z
      .looseObject({ kind: z.literal('atLeast'), value: number })
      .transform(({ value }): Estimate => ({ kind: 'atLeast', value })),
    withheldShape,
  ],
  {
    error: (issue) => {
      if (issue.code !== 'invalid_union') return undefined
      const { kind } = issue.input as { readonly kind?: unknown }
      return kind == null ? 'is missing; add it' : `must be "measured", "atLeast" or "withheld", got ${shown(kind)}`
    },
  },
)

/** Lengths in metres are often given in something else: say so where the value would fit. */
function otherUnit(value: number, min: number, max: number): string {
  const guesses = [
    ['cm', 0.01],
    ['mm', 0.001],
    ['inches', 0.0254],
    ['feet', 0.3048],
  ] as const
  for (const [name, metres] of guesses) {
    const inM = value * metres
    if (inM >= min && inM <= max) {
      return `; give metres, not ${name}: ${value} ${name} is ${Number(inM.toPrecision(4))}`
    }
  }
  return '; measure it again'
}
