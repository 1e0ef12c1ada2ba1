import { appendFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { Journal, readJournal } from '../../../main/library/journal.ts'
import { testFolder } from './things.ts'

test('half a line, as a full disk leaves it, does not swallow the next one', async () => {
  const folder = await testFolder()
  const journal = new Journal(folder, 3, [])
  await journal.note({ kind: 'dogs', id: 'juno' })
  await appendFile(join(folder, 'changes-3.log'), 'rides ri')
  await journal.note({ kind: 'rides', id: 'ride-1' })
  await journal.close()
  expect(await readJournal(folder, 3)).toEqual(
    expect.arrayContaining([
      { kind: 'dogs', id: 'juno' },
      { kind: 'rides', id: 'ride-1' },
    ]),
  )
})

test('a thing is noted once, and what was read is not noted again', async () => {
  const folder = await testFolder()
  const first = new Journal(folder, 1, [])
  for (const id of ['a', 'b', 'a']) await first.note({ kind: 'clips', id })
  await first.close()
  const touched = await readJournal(folder, 1)
  expect(touched.map(({ id }) => id)).toEqual(['a', 'b'])
  expect(new Journal(folder, 1, touched).size).toBe(2)
})
