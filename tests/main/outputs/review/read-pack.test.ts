import { randomUUID } from 'node:crypto'
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { testFolder } from '../../library/things.ts'
import { describedAs, refusal, renamed, soundFiles, soundParts, zipped, type PackFile } from './hostile-packs.ts'

async function sentence(files: readonly PackFile[], spoil: (zip: Buffer) => Buffer = (zip) => zip) {
  const folder = await testFolder()
  const path = join(folder, 'pack.zip')
  await zipped(path, files)
  await writeFile(path, spoil(await readFile(path)))
  return refusal(path, join(folder, 'clip.mp4'))
}

const comment = {
  id: `${'b'.repeat(16)}.${'0'.repeat(12)}`,
  author: { id: 'b'.repeat(16), name: '<script>alert(1)</script>' },
  version: 1,
  madeAt: '',
  isRemoved: false,
  kind: 'comment',
  atS: 1,
  toS: null,
  text: '<img src=x onerror=alert(1)>',
  strokes: [],
}
const saying = (item: unknown) => soundFiles({ ...soundParts(), 'comments.json': { items: [item] } })

describe('a pack from a stranger', () => {
  test('that is sound is opened, and scripts in names and comments are words', async () => {
    expect(await sentence(soundFiles())).toBeNull()
    expect(await sentence(saying(comment))).toBeNull()
  })

  test.each([
    [
      'leads out of its folder',
      [...soundFiles(), { name: 'aa/aa/x.sh', bytes: Buffer.from('') }],
      ['aa/aa/x.sh', '../../x.sh'],
      /leave its folder/,
    ],
    [
      'names an absolute place',
      [...soundFiles(), { name: 'aetc/pass', bytes: Buffer.from('') }],
      ['aetc/pass', '/etc/pass'],
      /leave its folder/,
    ],
    ['holds a folder', [...soundFiles(), { name: 'sub/x.txt', bytes: Buffer.from('') }], null, /holds a folder/],
    [
      'holds a link',
      [...soundFiles(), { name: 'link', bytes: Buffer.from('/etc/passwd'), mode: 0o120777 }],
      null,
      /holds a link/,
    ],
    [
      'holds a device',
      [...soundFiles(), { name: 'device', bytes: Buffer.from(''), mode: 0o020666 }],
      null,
      /no plain file/,
    ],
    [
      'holds a name twice',
      [...soundFiles(), { name: 'RIDE.json', bytes: Buffer.from('{}') }],
      null,
      /two files of the name/,
    ],
    [
      'would unpack to too much',
      [...soundFiles(), { name: 'bomb.txt', bytes: Buffer.alloc(30_000_000) }],
      null,
      /unpack to more/,
    ],
    [
      'holds a thousand files',
      [...soundFiles(), ...Array.from({ length: 60 }, (_, k) => ({ name: `f${k}`, bytes: Buffer.from('') }))],
      null,
      /more than 40 files/,
    ],
    ['is of a newer program', describedAs({ format: 'tiphold.review-pack/2' }), null, /newer Tiphold/],
    ['is some other ZIP file', [{ name: 'photo.jpg', bytes: Buffer.from('') }], null, /no review pack/],
    ['lacks its film', soundFiles().filter(({ name }) => name !== 'clip.mp4'), null, /damaged/],
    [
      'holds another film',
      soundFiles().map((f) => (f.name === 'clip.mp4' ? { ...f, bytes: Buffer.from('other') } : f)),
      null,
      /not the one that was put in/,
    ],
    [
      'bears comments of another author',
      saying({ ...comment, id: `${'c'.repeat(16)}.${'0'.repeat(12)}` }),
      null,
      /somebody else/,
    ],
    ['holds a damaged comment', saying({ ...comment, text: 7 }), null, /A comment in this pack is damaged/],
    [
      'says that its times go back',
      soundFiles({ ...soundParts(), 'ride.json': { schema: 'tiphold.ride/1' } }),
      null,
      /damaged/,
    ],
  ] as const)('that %s is refused with a sentence', async (_, files, names, words) => {
    const spoil = names === null ? undefined : (zip: Buffer) => renamed(zip, names[0], names[1])
    expect(await sentence(files, spoil)).toMatch(words)
  })

  test('of a kind that is not known yet keeps its comments', async () => {
    expect(await sentence(saying({ ...comment, kind: 'gesture', hands: 2 }))).toBeNull()
  })
})

describe('500 packs made to harm', () => {
  let sound: Buffer
  let first: string
  beforeAll(async () => {
    first = await mkdtemp(join(tmpdir(), 'packs-'))
    const path = join(first, 'sound.zip')
    await zipped(path, saying(comment))
    sound = await readFile(path)
  })
  afterAll(() => rm(first, { recursive: true }))

  test('each is opened or refused with a sentence, and nothing but the film is ever written', async () => {
    const folder = await testFolder()
    const spoilt = fc.oneof(
      fc.record({ cut: fc.nat() }).map(
        ({ cut }) =>
          (zip: Buffer) =>
            zip.subarray(0, cut % zip.length),
      ),
      fc
        .array(fc.record({ at: fc.nat(), byte: fc.integer({ min: 0, max: 255 }) }), { minLength: 1, maxLength: 30 })
        .map((flips) => (zip: Buffer) => {
          const copy = Buffer.from(zip)
          for (const { at, byte } of flips) copy[at % copy.length] = byte
          return copy
        }),
      // Where names, sizes and places stand: the last part of a ZIP.
      fc
        .array(fc.record({ back: fc.nat(600), byte: fc.integer({ min: 0, max: 255 }) }), { minLength: 1, maxLength: 8 })
        .map((flips) => (zip: Buffer) => {
          const copy = Buffer.from(zip)
          for (const { back, byte } of flips) copy[Math.max(0, copy.length - 1 - back)] = byte
          return copy
        }),
      fc.constantFrom('../lip.mp4', '/lip.mp4x', 'C:lip.mp4').map((to) => (zip: Buffer) => {
        return renamed(zip, 'clip.mp4', to.slice(0, 8))
      }),
      fc.uint8Array({ maxLength: 200 }).map((bytes) => (zip: Buffer) => Buffer.concat([zip, bytes])),
    )
    await fc.assert(
      fc.asyncProperty(spoilt, async (spoil) => {
        const id = randomUUID()
        const path = join(folder, `${id}.zip`)
        const clip = join(folder, `${id}.mp4`)
        await writeFile(path, spoil(sound))
        const said = await refusal(path, clip)
        if (said !== null) expect(said).toMatch(/^[A-Z].*\.$/s)
      }),
      { numRuns: 500 },
    )
    const odd = (await readdir(folder)).filter((name) => !/^[0-9a-f-]{36}\.(zip|mp4)$/.test(name))
    expect(odd).toEqual([])
  })
})
