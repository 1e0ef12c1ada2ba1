import { mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Readable } from 'node:stream'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { harmlessName, openHandedFiles, sweepUploads } from '../../../main/services/handed-files.ts'

let folder: string

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tiphold-handed-'))
})

afterEach(() => rm(folder, { recursive: true, force: true }))

test('letting go of a received file deletes it; a file that stayed in its place is left alone', async () => {
  const files = openHandedFiles(() => join(folder, 'uploads'))
  const own = join(folder, 'own.mp4')
  await writeFile(own, 'a clip')
  const [registered, received] = [await files.register(own), await files.receive('sent.mp4', Readable.from(['sent']))]
  if (!registered.ok || !received.ok) throw new Error('a file was refused')
  const copy = files.pathOf(received.value.fileId) ?? ''
  expect(await readFile(copy, 'utf8')).toBe('sent')
  await files.letGo(registered.value.fileId)
  await files.letGo(received.value.fileId)
  expect(await readFile(own, 'utf8')).toBe('a clip')
  expect(await readdir(join(folder, 'uploads'))).toEqual([])
  expect(files.pathOf(received.value.fileId)).toBeNull()
})

test('two files of one name do not meet', async () => {
  const files = openHandedFiles(() => folder)
  const ids = [
    await files.receive('a.mp4', Readable.from(['one'])),
    await files.receive('a.mp4', Readable.from(['two'])),
  ]
  const paths = ids.map((outcome) => (outcome.ok ? files.pathOf(outcome.value.fileId) : null) ?? '')
  expect(await Promise.all(paths.map((path) => readFile(path, 'utf8')))).toEqual(['one', 'two'])
})

test('nothing is left of an upload that breaks off', async () => {
  const breaking = Readable.from(
    (async function* () {
      yield Buffer.from('half')
      await Promise.resolve()
      throw new Error('the line is cut')
    })(),
  )
  const outcome = await openHandedFiles(() => folder).receive('a.mp4', breaking)
  expect(outcome).toMatchObject({ ok: false, error: { code: 'failed' } })
  expect(await readdir(folder)).toEqual([])
})

describe('sweeping uploads', () => {
  /** Files below the folder, given as `UPLOAD/NAME` with a number for the upload. */
  async function place(...paths: readonly string[]): Promise<string[]> {
    const placed = paths.map((path) => join(folder, path.replace(/^(\d)\//, '$1a2b3c4d-0000-4000-8000-123456789abc/')))
    for (const path of placed) {
      await mkdir(join(path, '..'), { recursive: true })
      await writeFile(path, 'clip')
    }
    return placed
  }
  const held = async () =>
    (await readdir(folder, { recursive: true, withFileTypes: true }))
      .filter((one) => one.isFile())
      .map(({ name }) => name)
      .sort()

  test('removes one that was cut off and one that was never taken in, says so, and keeps what clips need', async () => {
    const [kept] = await place('1/kept.mp4', '2/half.mp4.part', '3/forgotten.mp4')
    expect(await sweepUploads(folder, [kept!])).toEqual({ files: 2, bytes: 8 })
    expect(await held()).toEqual(['kept.mp4'])
  })

  test('never takes a clip for unfinished because of its name', async () => {
    const [kept] = await place('1/x.mp4.part')
    expect(await sweepUploads(folder, [kept!])).toEqual({ files: 0, bytes: 0 })
    expect(await held()).toEqual(['x.mp4.part'])
  })

  test('leaves alone what no upload has made', async () => {
    await place('stray.part', 'mine/holiday.mp4', '1/two.mp4', '1/files.mp4')
    await sweepUploads(folder, [])
    expect(await held()).toEqual(['files.mp4', 'holiday.mp4', 'stray.part', 'two.mp4'])
    await sweepUploads(join(folder, 'not-there'), [])
  })
})

test('a folder is no clip', async () => {
  expect(await openHandedFiles(() => folder).register(folder)).toMatchObject({
    ok: false,
    error: { code: 'unreadable' },
  })
})

test.each([
  ['Wren 2.mp4', 'Wren 2.mp4'],
  ['../../etc/passwd', 'passwd'],
  ['C:\\Users\\me\\ride.MOV', 'ride.MOV'],
  ['Rex: run 2?.mp4', 'Rex_ run 2_.mp4'],
  ['..', 'clip'],
  ['', 'clip'],
  ['.hidden.mp4', 'hidden.mp4'],
  ['con.mp4', 'clip con.mp4'],
  ['a\0b\n.mp4', 'a_b_.mp4'],
  ['ends with dots...', 'ends with dots'],
])('the name %j becomes %j', (given, name) => {
  expect(harmlessName(given)).toBe(name)
})

test('a very long name is cut, with its ending kept, so that every disk takes it', async () => {
  const name = harmlessName(`${'ü'.repeat(300)}.mp4`)
  await writeFile(join(folder, `${name}.part`), '')
  expect(name.endsWith('ü.mp4')).toBe(true)
  expect((await stat(join(folder, `${name}.part`))).isFile()).toBe(true)
})
