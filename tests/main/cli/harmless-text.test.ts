import { expect, test } from 'vitest'
import { harmless, harmlessLine } from '../../../main/cli/harmless-text.ts'

test('what steers a terminal is spelt out', () => {
  expect(harmless('a\u001b[31mred\u0007\r\u009b2J')).toBe('a\\u{1b}[31mred\\u{7}\\u{d}\\u{9b}2J')
  expect(harmless('gpj\u202e4pm')).toBe('gpj\\u{202e}4pm')
})

test('letters of any language, line breaks and tabs stay; on one line breaks are spelt out', () => {
  expect(harmless('Høst på Åsen, 犬 🐕\n\tx')).toBe('Høst på Åsen, 犬 🐕\n\tx')
  expect(harmlessLine('a\n\tb')).toBe('a\\n\\tb')
})
