import { mkdtemp, readFile, readdir, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { prepareOutputFolder } from '../../../main/files/output-folder.ts'
import { writeWhole, writeWholeText } from '../../../main/files/whole-file.ts'

let folder: string
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'whole-file-'))
})
afterEach(() => rm(folder, { recursive: true }))

describe('a file is written whole or not at all', () => {
  test('it takes the place of an older one', async () => {
    const path = join(folder, 'ride.json')
    await writeWholeText(path, 'old')
    await writeWholeText(path, 'new')
    expect(await readFile(path, 'utf8')).toBe('new')
    expect(await readdir(folder)).toEqual(['ride.json'])
  })

  test('a failure on the way leaves the older one and nothing else', async () => {
    const path = join(folder, 'ride.json')
    await writeWholeText(path, 'old')
    const failing = writeWhole(path, async (partPath) => {
      await writeFile(partPath, 'half of the n')
      throw new Error('disk full')
    })
    await expect(failing).rejects.toThrow('disk full')
    expect(await readFile(path, 'utf8')).toBe('old')
    expect(await readdir(folder)).toEqual(['ride.json'])
  })

  test('while it is being written, nothing stands in its place', async () => {
    const path = join(folder, 'ride.json')
    await writeWhole(path, async (partPath) => {
      await writeFile(partPath, 'text')
      expect(await readdir(folder)).not.toContain('ride.json')
    })
    expect(await readdir(folder)).toEqual(['ride.json'])
  })
})

describe('the output folder', () => {
  test('is made with the folders above it, and may be there already', async () => {
    const path = join(folder, 'out', 'biscuit')
    expect((await prepareOutputFolder(path)).ok).toBe(true)
    expect(await prepareOutputFolder(path)).toEqual({ ok: true, value: path })
  })

  test('cannot be where a file stands', async () => {
    const path = join(folder, 'out')
    await writeFile(path, '')
    const message = `--out ${path}: is a file, not a folder; give another name`
    expect(await prepareOutputFolder(path)).toEqual({ ok: false, message })
  })
})
