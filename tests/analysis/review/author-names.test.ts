import { describe, expect, test } from 'vitest'
import { authorNames } from '../../../analysis/review/author-names.ts'
import type { ReviewComment } from '../../../analysis/review/review-item.ts'
import { reviewText } from '../../../analysis/review/review-words.ts'

const comment = (letter: string, name: string, text: string): ReviewComment => ({
  id: `${letter.repeat(16)}.${'0'.repeat(11)}${text.length % 10}`,
  author: { id: letter.repeat(16), name },
  version: 1,
  madeAt: '2026-11-28T10:00:00Z',
  isRemoved: false,
  kind: 'comment',
  atS: 1,
  toS: null,
  text,
  strokes: [],
})

describe('who said it', () => {
  test('one who never signed is unsigned, and two of them stay two', () => {
    const one = [comment('b', '', 'wait')]
    expect(reviewText('Wren', one)).toContain('1.00 s  Unsigned: wait')
    const two = [...one, comment('c', ' \u200B ', 'slow'), comment('d', 'Cora', 'good')]
    expect(reviewText('Wren', two).split('\n').slice(2, -1)).toEqual([
      '1.00 s  Unsigned 1: wait',
      '1.00 s  Unsigned 2: slow',
      '1.00 s  Cora: good',
    ])
  })

  test('one who signed another comment is known by that name', () => {
    const items = [comment('b', '', 'wait'), comment('b', 'Cora', 'slowly')]
    const nameOf = authorNames(items)
    expect(items.map(({ author }) => nameOf(author))).toEqual(['Cora', 'Cora'])
  })

  test('the numbers do not depend on the order in which replies came', () => {
    const items = [comment('c', '', 'a'), comment('b', '', 'b')]
    const called = (all: typeof items) => {
      const nameOf = authorNames(all)
      return items.map(({ author }) => nameOf(author))
    }
    expect(called(items)).toEqual(called(items.toReversed()))
  })
})
