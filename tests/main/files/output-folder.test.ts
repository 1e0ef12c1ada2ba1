import { mkdir, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { OutputProblem, writingResults } from '../../../main/files/output-folder.ts'
import { writeWholeText } from '../../../main/files/whole-file.ts'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'output-'))
})
afterAll(() => rm(folder, { recursive: true }))

describe('results that cannot be written are one sentence that names the file', () => {
  const problemOf = async (path: string) =>
    writingResults(() => writeWholeText(path, '{}')).then(
      () => 'written',
      (error: unknown) => (error instanceof OutputProblem ? error.message : `thrown: ${String(error)}`),
    )

  test('where a folder has their name', async () => {
    const path = join(folder, 'ride.json')
    await mkdir(path)
    expect(await problemOf(path)).toBe(
      `${path}: a folder has this name; move it away or give another folder with --out`,
    )
  })

  test('where their folder has gone', async () => {
    expect(await problemOf(join(folder, 'gone', 'ride.json'))).toMatch(
      /ride\.json.*: the folder has gone while measuring; give another one with --out$/,
    )
  })

  test('on a full disk', async () => {
    const full = () => Promise.reject(Object.assign(new Error('ENOSPC'), { code: 'ENOSPC', path: '/out/ride.html' }))
    await expect(writingResults(full)).rejects.toThrow('/out/ride.html: the disk is full; make room there')
  })

  test('and a mistake of the program is none of them', async () => {
    await expect(writingResults(() => Promise.reject(new TypeError('oops')))).rejects.toThrow(TypeError)
  })
})
