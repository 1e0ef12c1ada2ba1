import { expect, test } from 'vitest'
import { z } from 'zod'
import { badInputSentence } from '../../../main/hosts/bad-input.ts'

test.each([
  [z.object({ name: z.string().min(1) }), { name: '' }, 'name must have at least 1 character; it is "".'],
  [z.object({ title: z.string().max(3) }), { title: 'abcd' }, 'title must have at most 3 characters; it is "abcd".'],
  [
    z.object({ dog: z.object({ massKg: z.number().max(120) }) }),
    { dog: { massKg: 300 } },
    'dog.massKg must be at most 120; it is 300.',
  ],
  [z.object({ frame: z.int() }), { frame: 1.5 }, 'frame must be a whole number; it is 1.5.'],
  [
    z.object({ units: z.enum(['metric', 'imperial']) }),
    { units: 'yards' },
    'units must be one of metric, imperial; it is "yards".',
  ],
  [z.object({ points: z.array(z.number()) }), { points: [1, null] }, 'points.1 must be a number; it is null.'],
  [z.object({ id: z.string() }), {}, 'id must be a string; it is missing.'],
  [z.object({}), null, 'The input must be an object; it is null.'],
])('the first fault is one sentence', (schema: z.ZodType, input: unknown, sentence: string) => {
  const parsed = schema.safeParse(input)
  expect(badInputSentence(parsed.error?.issues ?? [], input)).toBe(sentence)
})

test('a long value is cut short', () => {
  const input = { id: Array.from({ length: 500 }, () => 1) }
  const parsed = z.object({ id: z.string() }).safeParse(input)
  expect(badInputSentence(parsed.error?.issues ?? [], input).length).toBeLessThan(100)
})

test('an input too deep to be written is told of, not thrown', () => {
  const input: unknown = JSON.parse('['.repeat(20_000) + ']'.repeat(20_000))
  const { error } = z.object({ id: z.string() }).safeParse(input)
  expect(badInputSentence(error?.issues ?? [], input)).toBe(
    'The input must be an object; it is something too deep to be shown.',
  )
})
