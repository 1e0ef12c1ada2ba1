import { expect, test } from 'vitest'
import { bytesInWords } from '../../../renderer/settings/bytes-in-words.ts'

test('disk space is told roughly', () => {
  expect([0, 900, 3_400_000, 34_000_000, 2_250_000_000].map(bytesInWords)).toEqual([
    'no space',
    'less than 1 MB',
    '3.4 MB',
    '34 MB',
    '2.3 GB',
  ])
})
