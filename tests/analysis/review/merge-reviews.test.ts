import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { mergedReviews, newIn } from '../../../analysis/review/merge-reviews.ts'
import { readReview } from '../../../analysis/review/read-review.ts'
import type { ReviewItem } from '../../../analysis/review/review-item.ts'

const AUTHORS = ['a', 'b', 'c'].map((letter) => ({ id: letter.repeat(16), name: letter }))

/** Few ids and versions, so that copies collide: also two that say different things of one version. */
const item = fc
  .record({
    author: fc.constantFrom(...AUTHORS),
    place: fc.integer({ min: 0, max: 3 }),
    version: fc.integer({ min: 1, max: 3 }),
    text: fc.constantFrom('hold', 'wait', ''),
    isRemoved: fc.boolean(),
    sound: fc.constantFrom(null, 'GkXfow==', 'T2dnUw=='),
  })
  .map(({ author, place, version, text, isRemoved, sound }): ReviewItem => ({
    id: `${author.id}.${String(place).repeat(12)}`,
    author,
    version,
    madeAt: '2026-11-28T10:00:00Z',
    isRemoved,
    kind: 'comment',
    atS: 1,
    toS: null,
    text,
    strokes: [],
    ...(sound === null ? {} : { voice: { durationS: 2, sound } }),
  }))
const copy = fc.array(item, { maxLength: 12 })
const merged = (copies: readonly (readonly ReviewItem[])[]) => copies.reduce(mergedReviews, [])

describe('copies of a review', () => {
  test('say the same in any order, any grouping and any repetition', () => {
    const shuffled = fc.array(copy, { minLength: 1, maxLength: 6 }).chain((copies) =>
      fc.record({
        copies: fc.constant(copies),
        order: fc.array(fc.constantFrom(...copies.keys()), { maxLength: 12 }),
        rest: fc.shuffledSubarray([...copies.keys()], { minLength: copies.length }),
        cut: fc.nat(copies.length),
      }),
    )
    fc.assert(
      fc.property(shuffled, ({ copies, order, rest, cut }) => {
        const straight = merged(copies)
        const sequence = [...order, ...rest].map((k) => copies[k]!)
        expect(merged(sequence)).toEqual(straight)
        expect(mergedReviews(merged(copies.slice(0, cut)), merged(copies.slice(cut)))).toEqual(straight)
        expect(mergedReviews(straight, straight)).toEqual(straight)
      }),
      { numRuns: 500 },
    )
  })

  test('lose nothing and double nothing', () => {
    fc.assert(
      fc.property(copy, copy, (ours, theirs) => {
        const both = mergedReviews(ours, theirs)
        expect(new Set(both.map(({ id }) => id)).size).toBe(both.length)
        for (const one of [...ours, ...theirs]) {
          expect(both.find(({ id }) => id === one.id)!.version).toBeGreaterThanOrEqual(one.version)
        }
        expect(newIn(both, theirs)).toEqual([])
      }),
    )
  })

  test('an item that was taken back stays away when an older copy comes', () => {
    const said: ReviewItem = {
      id: `${'a'.repeat(16)}.${'0'.repeat(12)}`,
      author: AUTHORS[0]!,
      version: 1,
      madeAt: '',
      isRemoved: false,
      kind: 'question',
      atS: null,
      text: 'Is the hold long enough?',
    }
    const takenBack = { ...said, version: 2, isRemoved: true, text: '' }
    expect(readReview(mergedReviews([takenBack], [said])).questions).toEqual([])
    expect(newIn([takenBack], [said])).toEqual([])
  })
})
