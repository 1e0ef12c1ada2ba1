import { createHash } from 'node:crypto'
import { createWriteStream } from 'node:fs'
import { stat } from 'node:fs/promises'
import { Transform, Writable, type Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import yauzl, { type Entry, type ZipFile } from 'yauzl'
import type { ReviewItem } from '../../../analysis/review/review-item.ts'
import type { Ride } from '../../../analysis/ride/ride.ts'
import type { RidePictureRecord } from '../../contract/rides.ts'
import { PACK_FILES, type PackInfo, PACK_LIMITS, PackProblem } from './pack-files.ts'
import { packShape, pictureIn, rideIn } from './pack-shapes.ts'
import { itemsIn } from './review-file.ts'

/** A pack that was found to be sound, all but its film, which only decoding can tell. */
export interface ReadPack {
  readonly info: PackInfo
  readonly ride: Ride
  readonly picture: RidePictureRecord
  readonly items: readonly ReviewItem[]
}

const DAMAGED = 'This pack is damaged or was cut short on its way: ask for it once more.'

/**
 * Reads a pack that somebody sent and writes its film, and nothing else, to `clipPath`. Names lead nowhere: only files
 * of known names are read, whatever else is in it. Anything wrong is a `PackProblem` with a sentence.
 */
export async function readPack(path: string, clipPath: string): Promise<ReadPack> {
  const { size } = await stat(path)
  if (size > PACK_LIMITS.packBytes) throw new PackProblem('This pack is larger than 700 MB: ask for a smaller film.')
  const zip = await opened(path)
  try {
    const entries = await entriesOf(zip)
    const info = infoIn(await jsonOf(zip, entries, PACK_FILES.pack, PACK_LIMITS.jsonBytes, null))
    const json = (name: string, most: number) => jsonOf(zip, entries, name, most, info)
    const ride = rideIn(await json(PACK_FILES.ride, PACK_LIMITS.jsonBytes))
    const { firstElement, lastElement } = info.film
    const frames = lastElement - firstElement + 1
    if (ride === null || frames < 1 || lastElement >= ride.frames.ptsS.length) throw new PackProblem(DAMAGED)
    const picture = pictureIn(await json(PACK_FILES.picture, PACK_LIMITS.jsonBytes), frames)
    if (picture === null) throw new PackProblem(DAMAGED)
    const comments = await json(PACK_FILES.comments, PACK_LIMITS.commentsBytes)
    const items = itemsIn(itemList(comments), 'this pack')
    await writeClip(zip, entries, clipPath, info)
    return { info, ride, picture, items }
  } catch (error) {
    if (error instanceof PackProblem) throw error
    throw new PackProblem(DAMAGED)
  } finally {
    zip.close()
  }
}

/** Whether a file begins as a ZIP does. */
export function isZip(head: Uint8Array): boolean {
  return head[0] === 0x50 && head[1] === 0x4b && (head[2] === 3 || head[2] === 5) && (head[3] === 4 || head[3] === 6)
}

function opened(path: string): Promise<ZipFile> {
  return new Promise((resolve, reject) => {
    const options = { lazyEntries: true, autoClose: false, decodeStrings: false, validateEntrySizes: true }
    yauzl.open(path, options, (error, zip) => {
      if (error !== null) reject(new PackProblem(DAMAGED))
      else resolve(zip)
    })
  })
}

/** Every file of the pack by its name. */
function entriesOf(zip: ZipFile): Promise<ReadonlyMap<string, Entry>> {
  return new Promise((resolve, reject) => {
    const entries = new Map<string, Entry>()
    const seen = new Set<string>()
    zip.on('entry', (entry: Entry) => {
      const name = nameOf(entry)
      const fault = entryFault(name, entry, seen)
      if (fault !== null) {
        reject(new PackProblem(fault))
        return
      }
      seen.add(name.toLowerCase())
      entries.set(name, entry)
      zip.readEntry()
    })
    zip.on('end', () => resolve(entries))
    zip.on('error', () => reject(new PackProblem(DAMAGED)))
    zip.readEntry()
  })
}

const LEADS_OUT = 'This pack holds a file that would leave its folder: it is not opened.'
/** S_IFMT and S_IFLNK of stat(2), in the upper half of the external attributes. */
const [FILE_TYPE, LINK, PLAIN] = [0o170000, 0o120000, 0o100000]
const ENCRYPTED = 1

/** The name as it stands in the pack; the library itself would refuse some before they could be told. */
function nameOf({ generalPurposeBitFlag, fileNameRaw, extraFields }: Entry): string {
  return yauzl.getFileNameLowLevel(generalPurposeBitFlag, fileNameRaw, extraFields, true)
}

function entryFault(fileName: string, entry: Entry, seen: ReadonlySet<string>): string | null {
  const { uncompressedSize, compressedSize } = entry
  const type = (entry.externalFileAttributes >>> 16) & FILE_TYPE
  if (seen.size >= PACK_LIMITS.files) return `This pack holds more than ${PACK_LIMITS.files} files: it is not opened.`
  if (/(^|[\\/])\.\.([\\/]|$)|^[\\/]|^[A-Za-z]:|\\|\0/.test(fileName)) return LEADS_OUT
  if (type === LINK) return 'This pack holds a link to another file: it is not opened.'
  if (type !== 0 && type !== PLAIN) return 'This pack holds something that is no plain file: it is not opened.'
  if (fileName.includes('/')) return 'This pack holds a folder, which packs of Tiphold never do: it is not opened.'
  if (seen.has(fileName.toLowerCase()))
    return `This pack holds two files of the name ${quoted(fileName)}: it is not opened.`
  if ((entry.generalPurposeBitFlag & ENCRYPTED) !== 0)
    return 'This pack is locked with a password: ask for an open one.'
  if (uncompressedSize > mostBytes(fileName)) return TOO_LARGE
  // Deflate packs a thousandfold at the very most (RFC 1951); our own files do not come near.
  if (uncompressedSize > 1e6 && uncompressedSize > 500 * Math.max(1, compressedSize)) return TOO_LARGE
  return null
}

const TOO_LARGE = 'This pack would unpack to more than a pack may hold: it is not opened.'

function mostBytes(name: string): number {
  return name === PACK_FILES.clip || name === PACK_FILES.page ? PACK_LIMITS.clipBytes : PACK_LIMITS.jsonBytes
}

/** A name from a stranger in a sentence: short, and without signs that turn the line about. */
function quoted(name: string): string {
  return `“${name.replace(/[^\p{L}\p{N} ._-]/gu, '?').slice(0, 40)}”`
}

function infoIn(value: unknown): PackInfo {
  const parsed = packShape.safeParse(value)
  if (parsed.success) return parsed.data
  const format = typeof value === 'object' && value !== null && 'format' in value ? value.format : null
  if (typeof format === 'string' && /^tiphold\.review-pack\/\d+$/.test(format) && format !== 'tiphold.review-pack/1') {
    throw new PackProblem('This pack was made by a newer Tiphold: update Tiphold, then open it again.')
  }
  throw new PackProblem(format === null ? 'This ZIP file is no review pack: choose another file.' : DAMAGED)
}

function itemList(value: unknown): unknown {
  return typeof value === 'object' && value !== null && 'items' in value ? value.items : null
}

async function jsonOf(
  zip: ZipFile,
  entries: ReadonlyMap<string, Entry>,
  name: string,
  most: number,
  info: PackInfo | null,
): Promise<unknown> {
  const chunks: Buffer[] = []
  const sink = new Writable({
    write(chunk: Buffer, _encoding, done) {
      chunks.push(chunk)
      done()
    },
  })
  await copyEntry(zip, entries, name, most, info, sink)
  return JSON.parse(Buffer.concat(chunks).toString('utf8')) as unknown
}

async function writeClip(
  zip: ZipFile,
  entries: ReadonlyMap<string, Entry>,
  clipPath: string,
  info: PackInfo,
): Promise<void> {
  const sink = createWriteStream(clipPath, { flags: 'wx', mode: 0o600 })
  await copyEntry(zip, entries, PACK_FILES.clip, PACK_LIMITS.clipBytes, info, sink)
}

async function copyEntry(
  zip: ZipFile,
  entries: ReadonlyMap<string, Entry>,
  name: string,
  most: number,
  info: PackInfo | null,
  sink: Writable,
): Promise<void> {
  const entry = entries.get(name)
  if (entry === undefined) {
    throw new PackProblem(info === null ? 'This ZIP file is no review pack: choose another file.' : DAMAGED)
  }
  const hash = createHash('sha256')
  let bytes = 0
  const counted = new Transform({
    transform(chunk: Buffer, _encoding, done) {
      bytes += chunk.length
      hash.update(chunk)
      if (bytes > most) done(new PackProblem(TOO_LARGE))
      else done(null, chunk)
    },
  })
  await pipeline(await streamOf(zip, entry), counted, sink)
  if (info !== null && info.files[name] !== hash.digest('hex')) {
    throw new PackProblem('A file in this pack is not the one that was put in: ask for it once more.')
  }
}

function streamOf(zip: ZipFile, entry: Entry): Promise<Readable> {
  return new Promise((resolve, reject) => {
    zip.openReadStream(entry, (error, stream) => {
      if (error !== null) reject(error)
      else resolve(stream)
    })
  })
}
