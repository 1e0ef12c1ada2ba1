import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { DAMAGES, damagedCopies, damagedCopy } from './damaged-clips.ts'

const clip = readFileSync('sample-clips/clips/wren-hold.mp4')

describe('a damaged copy', () => {
  test.each(DAMAGES)('by %s is the same each time, another for another seed, and not the clip', (damage) => {
    const copy = damagedCopy(clip, damage, 3)
    expect(damagedCopy(clip, damage, 3).bytes.equals(copy.bytes)).toBe(true)
    expect(damagedCopy(clip, damage, 4).bytes.equals(copy.bytes)).toBe(false)
    expect(copy.bytes.equals(clip)).toBe(false)
    expect(copy.bytes.subarray(0, copy.fromByte).equals(clip.subarray(0, copy.fromByte))).toBe(true)
  })

  test('in its pictures keeps the index, which comes first in the sample clips or last', () => {
    const index = clip.indexOf('moov')
    for (const { bytes } of damagedCopies(clip, 3, 'pictures')) {
      expect(bytes.length).toBe(clip.length)
      expect(bytes.subarray(index, index + 500).equals(clip.subarray(index, index + 500))).toBe(true)
    }
  })
})
