import { execFileSync } from 'node:child_process'
import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { jsonText, readJsonFile } from '../../../main/files/json-file.ts'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'json-file-'))
})
afterAll(() => rm(folder, { recursive: true }))

describe('reading a JSON file', () => {
  test('gives its value, with or without a byte order mark', async () => {
    const path = join(folder, 'marked.json')
    await writeFile(path, '\uFEFF{"lengthM": 3.66}')
    expect(await readJsonFile(path)).toEqual({ ok: true, value: { lengthM: 3.66 } })
  })

  test('says in one line when there is no file, a folder, or something else in it', async () => {
    const missing = join(folder, 'none.json')
    expect(await readJsonFile(missing)).toEqual({
      ok: false,
      message: `${missing}: there is no such file; check the path`,
    })
    const isNone = 'is not a file that can be read (a folder, pipe or device); give the file itself'
    expect(await readJsonFile(folder)).toEqual({ ok: false, message: `${folder}: ${isNone}` })
    const pipe = join(folder, 'pipe.json')
    if (process.platform !== 'win32') {
      execFileSync('mkfifo', [pipe])
      expect(await readJsonFile(pipe)).toEqual({ ok: false, message: `${pipe}: ${isNone}` })
      expect(await readJsonFile('/dev/zero')).toEqual({ ok: false, message: `/dev/zero: ${isNone}` })
    }
    const broken = join(folder, 'broken.json')
    await writeFile(broken, '{"lengthM": 3.66,\n\n')
    const result = await readJsonFile(broken)
    expect(result.ok || result.message).toMatch(/broken\.json: is not JSON \(.*\); correct it in a text editor$/)
    expect(result.ok || result.message).not.toContain('\n')
  })
})

test('a value that is not a number never reaches a file as null', () => {
  expect(jsonText({ holdS: 0.5, frames: [null, 1] })).toBe('{"holdS":0.5,"frames":[null,1]}\n')
  expect(() => jsonText({ holdS: NaN })).toThrow('holdS is NaN')
  expect(() => jsonText({ frames: [1, Infinity] })).toThrow('Infinity')
})
