import { join, relative } from 'node:path'
import { expect, test } from 'vitest'
import { importClosure } from './import-closure.ts'

test('a change of anything that the measuring is made of is seen', () => {
  const root = join(import.meta.dirname, '../..')
  const files = importClosure(join(root, 'main/measuring/measure-clip.ts')).map((file) => relative(root, file))
  for (const name of [
    'analysis/ride/verdicts.ts',
    'main/measuring/network/paw-network-1.bin',
    'main/measuring/network/paw-network-2.bin',
    'main/film/media/stream-frames.ts',
  ])
    expect(files).toContain(name)
  expect(files.filter((file) => file.startsWith('renderer'))).toEqual([])
})
