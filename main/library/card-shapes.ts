import { z } from 'zod'
import type { Kind } from './kinds.ts'

/**
 * What a card must have so that the program can show it and go on with it. Ranges are not looked at: they were when it
 * was written, and a program with narrower ones must still show what is kept. What is not named here is left as it is.
 */
const text = z.string()
const number = z.number()
const id = z.string()
const pointPx = z.object({ xPx: number, yPx: number }).nullable()
const estimate = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('measured'), value: number, sd: number, ci95: z.tuple([number, number]) }),
  z.object({ kind: z.literal('atLeast'), value: number }),
  z.object({ kind: z.literal('withheld'), reason: text }),
])

const dog = z.object({
  id,
  name: text,
  note: text,
  withersM: number.nullable(),
  massKg: number.nullable(),
  bodyDay: text.nullable(),
  bodyBefore: z.array(z.object({ day: text.nullable(), withersM: number.nullable(), massKg: number.nullable() })),
  bornInMonth: text.nullable(),
  criterion: z.object({ position: text, holdAfterGroundS: number }).nullable(),
})

const session = z.object({
  day: text.nullable(),
  venue: text,
  surface: text,
  weather: text,
  handler: text,
  purpose: text.nullable(),
  tags: z.array(text),
})

const board = z.object({
  id,
  name: text,
  note: text,
  shape: z.object({ lengthM: number, widthM: number, pivotHeightM: number, contactM: number }),
  isAssumed: z.literal(true).exactOptional(),
})

const clip = z.object({
  id,
  takenInAt: text,
  filmedOn: text.nullable(),
  path: text,
  sizeBytes: number,
  facts: z.object({
    fileName: text,
    sha256: text,
    widthPx: number,
    heightPx: number,
    frameCount: number,
    fileDurationS: number,
    averageRateHz: number,
    hasSound: z.boolean(),
    notes: z.array(text),
  }),
  slowMotion: z.object({ factor: number, evidence: text, isSure: z.boolean() }),
  setup: z.object({
    stretch: z.object({ fromFrame: number, toFrame: number }).nullable(),
    travel: z.enum(['to-right', 'to-left']).nullable(),
    slowMotion: number.nullable(),
    dogId: id.nullable(),
    boardId: id.nullable(),
    title: text,
  }),
  marks: z.object({
    rest: z
      .object({
        frame: number,
        entryEnd: pointPx,
        exitEnd: pointPx,
        pivot: pointPx,
        upContactEdge: pointPx,
        downContactEdge: pointPx,
      })
      .nullable(),
    grounded: z.object({ frame: number, entryEnd: pointPx, exitEnd: pointPx }).nullable(),
    neverLands: z.boolean(),
  }),
  sample: text.nullable(),
})

const ride = z.object({
  id,
  clipId: id,
  dogId: id.nullable(),
  boardId: id.nullable(),
  title: text,
  note: text,
  fileName: text,
  session,
  corrections: z.object({
    events: z.record(text, z.looseObject({ kind: text })),
    footfalls: z.object({ changed: z.array(z.unknown()), struckOut: z.array(number), added: z.array(z.unknown()) }),
    zones: z.record(text, text),
  }),
  review: z.array(z.looseObject({ id, kind: text, version: number, isRemoved: z.boolean() })).optional(),
  values: z.object({
    isCorrected: z.boolean(),
    leaving: text,
    up: text,
    down: text,
    hold: estimate,
    leavingMargin: estimate,
    leadPawAtTip: estimate,
    miniature: z.object({
      lengthM: number,
      contactM: number,
      fromS: number,
      toS: number,
      footfalls: z.array(z.object({ limb: text, alongM: number, fromS: number, toS: number, confidence: number })),
      tipStartS: number.nullable(),
      groundedS: number.nullable(),
      leftS: number.nullable(),
    }),
    // Rides that were kept before cards showed a frame of the film have none.
    filmFrame: number.optional(),
  }),
})

const noted = z.object({
  id,
  dogId: id.nullable(),
  boardId: id.nullable(),
  session,
  note: text,
  origin: text,
  facts: z.record(text, z.unknown()),
})

const SHAPES: Readonly<Record<Kind, z.ZodType>> = { dogs: dog, boards: board, clips: clip, rides: ride, noted }

/** The last moment that a date can tell, ms since 1970 (ECMA-262, Time Values and Time Range). */
const LAST_DATE_MS = 8.64e15

const kept = z.object({
  format: z.number().int(),
  addedAt: z.number().min(0).max(LAST_DATE_MS),
  part: z.string().nullable(),
  card: z.unknown(),
})

/** What is wrong with a card and all that is kept beside it, as `addedAt: ...`; null where it is sound. */
export function cardFault(kind: Kind, value: unknown): string | null {
  const outer = kept.safeParse(value)
  if (!outer.success) return firstFault(outer.error)
  const inner = SHAPES[kind].safeParse(outer.data.card)
  return inner.success ? null : firstFault(inner.error)
}

function firstFault(error: z.ZodError): string {
  const [issue] = error.issues
  if (issue === undefined) return 'it is not as it should be'
  const where = issue.path.join('.')
  return where === '' ? issue.message : `${where}: ${issue.message}`
}
