import { expect, test } from 'vitest'
import { markup } from '../../../main/report/markup.ts'

test('texts cannot become markup, in elements or in attributes', () => {
  const name = `<img src=x onerror="a('b')">&`
  const piece = markup`<b title="${name}">${name}</b>`
  const escaped = '&lt;img src=x onerror=&quot;a(&#39;b&#39;)&quot;&gt;&amp;'
  expect(piece.source).toBe(`<b title="${escaped}">${escaped}</b>`)
})

test('pieces and lists of pieces go in as they are, null leaves nothing', () => {
  const items = ['a', '<'].map((text) => markup`<li>${text}</li>`)
  expect(markup`<ul>${items}</ul>${null}`.source).toBe('<ul><li>a</li><li>&lt;</li></ul>')
})

test('coordinates are cut to a hundredth, and a drawing with no number in a place is a bug', () => {
  expect(markup`x="${1 / 3}"`.source).toBe('x="0.33"')
  expect(() => markup`x="${NaN}"`).toThrow('NaN')
})
