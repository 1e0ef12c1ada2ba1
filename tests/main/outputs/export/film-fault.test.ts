import { expect, test } from 'vitest'
import { filmFault } from '../../../../main/outputs/export/export-pack.ts'

test('pictures that the encoder left out are not called damage of the clip', () => {
  expect(filmFault(120, 120, 120)).toBeNull()
  expect(filmFault(120, 120, 117)).toMatch(/Your clip is sound: install another ffmpeg/)
  expect(filmFault(120, 118, 118)).toMatch(/missing or damaged in the clip/)
})
