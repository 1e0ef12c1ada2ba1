import { createHash } from 'node:crypto'
import { createWriteStream } from 'node:fs'
import { pipeline } from 'node:stream/promises'
import fc from 'fast-check'
import yazl from 'yazl'
import { wrenHold } from '../../../analysis/ride/wren-hold.ts'
import { readPack } from '../../../../main/outputs/review/read-pack.ts'
import { PackProblem } from '../../../../main/outputs/review/pack-files.ts'

/** A file of a pack, and how it is put in. */
export interface PackFile {
  name: string
  bytes: Buffer
  mode?: number
}

const sha256 = (bytes: Buffer): string => createHash('sha256').update(bytes).digest('hex')

/** The parts of a sound pack of the sample ride; its film is a few bytes that are never decoded here. */
export function soundParts(): Record<string, unknown> {
  const frames = wrenHold.measured.frames.ptsS.length
  return {
    'ride.json': wrenHold.measured,
    'picture.json': { ...wrenHold.picture, frameIndex: Array.from({ length: frames }, (_, k) => k) },
    'comments.json': { items: [] },
  }
}

export function soundInfo(files: readonly PackFile[]): Record<string, unknown> {
  return {
    format: 'tiphold.review-pack/1',
    packId: '6f9619ff-8b86-4d01-b42d-00cf4fc964ff',
    rideId: 'ride-1',
    madeAt: '2026-11-28T10:00:00.000Z',
    program: { version: '0.1.0' },
    handler: { id: 'a'.repeat(16), name: 'Ida' },
    dogName: 'Wren',
    title: 'second run',
    film: { firstElement: 0, lastElement: wrenHold.measured.frames.ptsS.length - 1, widthPx: 960, heightPx: 540 },
    files: Object.fromEntries(files.map(({ name, bytes }) => [name, sha256(bytes)])),
  }
}

/** The files of a sound pack, its description last. */
export function soundFiles(parts: Record<string, unknown> = soundParts()): PackFile[] {
  const files: PackFile[] = Object.entries(parts).map(([name, part]) => ({
    name,
    bytes: Buffer.from(JSON.stringify(part)),
  }))
  files.push({ name: 'clip.mp4', bytes: Buffer.from('a film') })
  return [...files, { name: 'pack.json', bytes: Buffer.from(JSON.stringify(soundInfo(files))) }]
}

/** A pack whose description says this instead. */
export function describedAs(change: Record<string, unknown>, parts = soundParts()): PackFile[] {
  const files = soundFiles(parts).slice(0, -1)
  const info = { ...soundInfo(files), ...change }
  return [...files, { name: 'pack.json', bytes: Buffer.from(JSON.stringify(info)) }]
}

/** Writes a ZIP of these files. Names that the library would refuse are put in under others of the same length. */
export async function zipped(path: string, files: readonly PackFile[]): Promise<void> {
  const zip = new yazl.ZipFile()
  for (const { name, bytes, mode = 0o100644 } of files) {
    zip.addBuffer(bytes, name, { mode, mtime: new Date('2026-11-28T10:00:00Z') })
  }
  zip.end()
  await pipeline(zip.outputStream, createWriteStream(path))
}

/** Puts another name of the same length in the place of one, in both places where a ZIP has it. */
export function renamed(zip: Buffer, from: string, to: string): Buffer {
  if (Buffer.byteLength(from) !== Buffer.byteLength(to)) throw new Error('The names must be of one length.')
  return Buffer.from(zip.toString('latin1').replaceAll(from, to), 'latin1')
}

/** What opening says: a sentence, or null for a pack that is opened. Anything else that is thrown is a bug. */
export async function refusal(path: string, clipPath: string): Promise<string | null> {
  try {
    await readPack(path, clipPath)
    return null
  } catch (error) {
    if (error instanceof PackProblem) return error.message
    throw error
  }
}

/** A comment that is sound, if rude. */
export const comment = {
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
/** A pack with one comment. */
export const saying = (item: unknown) => soundFiles({ ...soundParts(), 'comments.json': { items: [item] } })

/** A pack that somebody crafted, and what is said to it. */
export interface CraftedPack {
  /** "holds a link" */
  readonly what: string
  readonly files: () => readonly PackFile[]
  /** A name of the ZIP, and what stands in its place in the end. */
  readonly names: readonly [from: string, to: string] | null
  readonly words: RegExp
}

const and = (...more: readonly PackFile[]) => [...soundFiles(), ...more]
const empty = (name: string): PackFile => ({ name, bytes: Buffer.from('') })

export const CRAFTED: readonly CraftedPack[] = [
  {
    what: 'leads out of its folder',
    files: () => and(empty('aa/aa/x.sh')),
    names: ['aa/aa/x.sh', '../../x.sh'],
    words: /leave its folder/,
  },
  {
    what: 'names an absolute place',
    files: () => and(empty('aetc/pass')),
    names: ['aetc/pass', '/etc/pass'],
    words: /leave its folder/,
  },
  { what: 'holds a folder', files: () => and(empty('sub/x.txt')), names: null, words: /holds a folder/ },
  {
    what: 'holds a link',
    files: () => and({ name: 'link', bytes: Buffer.from('/etc/passwd'), mode: 0o120777 }),
    names: null,
    words: /holds a link/,
  },
  {
    what: 'holds a device',
    files: () => and({ ...empty('device'), mode: 0o020666 }),
    names: null,
    words: /no plain file/,
  },
  {
    what: 'holds a name twice',
    files: () => and({ name: 'RIDE.json', bytes: Buffer.from('{}') }),
    names: null,
    words: /two files of the name/,
  },
  {
    what: 'would unpack to too much',
    files: () => and({ name: 'bomb.txt', bytes: Buffer.alloc(30_000_000) }),
    names: null,
    words: /unpack to more/,
  },
  {
    what: 'holds many files',
    files: () => and(...Array.from({ length: 60 }, (_, k) => empty(`f${k}`))),
    names: null,
    words: /more than 40 files/,
  },
  {
    what: 'is of a newer program',
    files: () => describedAs({ format: 'tiphold.review-pack/2' }),
    names: null,
    words: /newer Tiphold/,
  },
  { what: 'is some other ZIP file', files: () => [empty('photo.jpg')], names: null, words: /no review pack/ },
  {
    what: 'lacks its film',
    files: () => soundFiles().filter(({ name }) => name !== 'clip.mp4'),
    names: null,
    words: /damaged/,
  },
  {
    what: 'holds another film',
    files: () => soundFiles().map((f) => (f.name === 'clip.mp4' ? { ...f, bytes: Buffer.from('other') } : f)),
    names: null,
    words: /not the one that was put in/,
  },
  {
    what: 'bears comments of another author',
    files: () => saying({ ...comment, id: `${'c'.repeat(16)}.${'0'.repeat(12)}` }),
    names: null,
    words: /somebody else/,
  },
  {
    what: 'holds a damaged comment',
    files: () => saying({ ...comment, text: 7 }),
    names: null,
    words: /A comment in this pack is damaged/,
  },
  {
    what: 'holds lists in lists in lists',
    files: () => saying({ ...comment, kind: 'gesture', deep: nested(2000) }),
    names: null,
    words: /A comment in this pack is damaged/,
  },
  {
    what: 'says nothing of the ride',
    files: () => soundFiles({ ...soundParts(), 'ride.json': { schema: 'tiphold.ride/1' } }),
    names: null,
    words: /damaged/,
  },
]

/** A list in a list in a list, so many deep. */
export function nested(levels: number): unknown {
  let inner: unknown = 1
  for (let k = 0; k < levels; k++) inner = [inner]
  return inner
}

/** Ways to spoil a ZIP of a pack: cut, bytes anywhere, bytes where names, sizes and places stand, names, a tail. */
export const spoiltZips: fc.Arbitrary<(zip: Buffer) => Buffer> = fc.oneof(
  fc.nat().map(
    (cut) =>
      (zip: Buffer): Buffer =>
        zip.subarray(0, cut % zip.length),
  ),
  fc
    .array(fc.record({ at: fc.nat(), byte: fc.integer({ min: 0, max: 255 }) }), { minLength: 1, maxLength: 30 })
    .map((flips) => (zip: Buffer) => {
      const copy = Buffer.from(zip)
      for (const { at, byte } of flips) copy[at % copy.length] = byte
      return copy
    }),
  // The last part of a ZIP.
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

const fieldValue = fc.oneof(
  fc.constantFrom<unknown>(null, -1, 1e308, '', '\u202E', '<script>alert(1)</script>', '../../x', [], {}, true),
  fc.constantFrom(30, 3000).map(nested),
  fc.constantFrom(100, 100_000).map((length) => 'x'.repeat(length)),
)
const fieldName = fc.constantFrom(
  ...['id', 'author', 'version', 'madeAt', 'isRemoved', 'kind', 'atS', 'toS', 'text', 'strokes'],
  ...['__proto__', 'constructor', 'toJSON', 'asItCame'],
)

/** Texts of replies made to harm: fields of the wrong kind, names that programs know, much of everything, cut, no JSON. */
export const spoiltReplies: fc.Arbitrary<string> = fc.oneof(
  fc
    .record({ name: fieldName, value: fieldValue, times: fc.constantFrom(1, 2, 2500) })
    .map(({ name, value, times }) => {
      const items = Array.from({ length: times }, (_, k) => {
        const fields = { ...comment, id: `${'b'.repeat(16)}.${k.toString(16).padStart(12, '0')}` }
        // As text, so that __proto__ is a field like any other.
        return JSON.stringify(fields).replace(/\}$/, `,${JSON.stringify(name)}:${JSON.stringify(value)}}`)
      })
      return replyOf(`[${items.join()}]`)
    }),
  fc.record({ cut: fc.nat() }).map(({ cut }) => {
    const text = replyOf(`[${JSON.stringify(comment)}]`)
    return text.slice(0, cut % text.length)
  }),
  fc.constantFrom('['.repeat(200_000), replyOf('{"length":1e9}'), replyOf('null'), '\u0000', '{"format":1}'),
)

function replyOf(items: string): string {
  const head = `"format":"tiphold.review-reply/1","packId":"${soundInfo([])['packId'] as string}","rideId":"ride-1"`
  return `{${head},"items":${items}}`
}
