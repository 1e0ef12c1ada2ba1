import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { ReviewComment } from '../../../analysis/review/review-item.ts'
import { reviewText, reviewTexts } from '../../../analysis/review/review-words.ts'
import { voiceType } from '../../../analysis/review/voice.ts'

/** By the bytes themselves: EBML (RFC 8794), Ogg (RFC 3533), ISO base media (ISO/IEC 14496-12). */
function typeByBytes(bytes: Buffer): string | null {
  if (bytes.subarray(0, 4).equals(Buffer.from([0x1a, 0x45, 0xdf, 0xa3]))) return 'audio/webm'
  if (bytes.subarray(0, 4).toString('latin1') === 'OggS') return 'audio/ogg'
  return bytes.subarray(4, 8).toString('latin1') === 'ftyp' ? 'audio/mp4' : null
}

describe('the kind of a recording', () => {
  const beginning = fc.oneof(
    fc.constantFrom('1a45dfa3', '4f676753', '1a45dfa2', '4f676752').map((hex) => Buffer.from(hex, 'hex')),
    fc
      .tuple(fc.uint8Array({ minLength: 4, maxLength: 4 }), fc.constantFrom('ftyp', 'ftyq', 'gtyp', 'ftxp'))
      .map(([size, box]) => Buffer.concat([size, Buffer.from(box, 'latin1')])),
    fc.constant(Buffer.alloc(0)),
  )
  test('is that of its first bytes, whatever follows', () => {
    fc.assert(
      fc.property(beginning, fc.uint8Array({ minLength: 4, maxLength: 20 }), (head, rest) => {
        const bytes = Buffer.concat([head, rest])
        expect(voiceType(bytes.toString('base64'))).toBe(typeByBytes(bytes))
      }),
      { numRuns: 2000 },
    )
  })
})

describe('a spoken comment', () => {
  const spoken: ReviewComment = {
    id: `${'b'.repeat(16)}.${'0'.repeat(12)}`,
    author: { id: 'b'.repeat(16), name: 'Cora' },
    version: 1,
    madeAt: '2026-11-28T10:00:00Z',
    isRemoved: false,
    kind: 'comment',
    atS: 1.2,
    toS: null,
    text: '',
    strokes: [],
    voice: { durationS: 12.4, sound: 'GkXfow==' },
  }
  const stroke = { shape: 'line', points: [{ xShare: 0, yShare: 0 }] } as const

  test('stands in the text with its length, with and without words', () => {
    const line = (one: ReviewComment) => reviewText('Wren', [one]).split('\n')[2]
    expect(line(spoken)).toBe('1.20 s  Cora: Spoken, 12 s')
    expect(line({ ...spoken, text: 'Hold here' })).toBe('1.20 s  Cora: Hold here (spoken, 12 s)')
    expect(line({ ...spoken, strokes: [stroke] })).toBe('1.20 s  Cora: A drawing on the picture; spoken, 12 s')
    expect(line({ ...spoken, text: 'Hold', strokes: [stroke] })).toBe(
      '1.20 s  Cora: Hold (with a drawing; spoken, 12 s)',
    )
  })

  test('is found by its words alone', () => {
    expect(reviewTexts([spoken])).toEqual([])
  })
})
