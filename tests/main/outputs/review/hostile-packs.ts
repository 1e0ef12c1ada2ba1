import { createHash } from 'node:crypto'
import { createWriteStream } from 'node:fs'
import { pipeline } from 'node:stream/promises'
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
