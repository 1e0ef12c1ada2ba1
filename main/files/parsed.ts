import type { z } from 'zod'
import { alternatives } from '../../analysis/words/in-words.ts'

/** The result of reading something from outside: the value, or one line that says what is wrong where. */
export type Parsed<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly message: string }

/**
 * Holds a value read from `file` (its name, for messages) against a shape. The message of a bad one is a single line
 * about its first fault: the field, the rule, and the value got. `board.json: widthM must be a number, got "30 cm"`.
 */
export function parsedAs<T>(shape: z.ZodType<T>, value: unknown, file: string): Parsed<T> {
  const read = shape.safeParse(value, { error: brokenRule })
  if (read.success) return { ok: true, value: read.data }
  const [issue] = read.error.issues
  const where = issue === undefined ? '' : placeOf(issue.path)
  const more = read.error.issues.length - 1
  const rest = more <= 0 ? '' : ` (and ${more} more ${more === 1 ? 'fault' : 'faults'})`
  return { ok: false, message: `${file}: ${where || 'the file'} ${issue?.message ?? 'is wrong'}${rest}` }
}

/** A value cut short for a message. */
export function shown(value: unknown): string {
  if (typeof value === 'number') return String(value)
  const text = JSON.stringify(value) ?? String(value)
  return text.length > 40 ? `${text.slice(0, 37)}...` : text
}

/** What a value breaks, to follow its field's name; a shape's own sentences come before these. */
export function brokenRule(issue: z.core.$ZodRawIssue): string {
  const { input } = issue
  if (input === undefined || (input === null && (issue.path?.length ?? 0) > 0)) return 'is missing; add it'
  return `must be ${ruleOf(issue)}, got ${shown(input)}`
}

function ruleOf(issue: z.core.$ZodRawIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      return KINDS[String(issue['expected'])] ?? `of the kind "${String(issue['expected'])}"`
    case 'invalid_value':
      return alternatives((issue['values'] as readonly unknown[]).map((value) => JSON.stringify(value)))
    case 'invalid_union':
      return 'one of the kinds that are known here'
    default:
      return 'as the format says'
  }
}

const KINDS: Readonly<Record<string, string>> = {
  number: 'a number',
  int: 'a whole number',
  string: 'text in quotes',
  boolean: 'true or false',
  object: 'an object { ... }',
  record: 'an object { ... }',
  array: 'a list [ ... ]',
  tuple: 'a list [ ... ]',
}

/** `frames[0].points.pivot`. */
function placeOf(path: readonly PropertyKey[]): string {
  return path.reduce<string>((place, part) => {
    if (typeof part === 'number') return `${place}[${part}]`
    return place === '' ? String(part) : `${place}.${String(part)}`
  }, '')
}
