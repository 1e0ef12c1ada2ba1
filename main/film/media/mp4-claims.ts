import type { FileHandle } from 'node:fs/promises'
import { ClipProblem } from './clip-problem.ts'

/** What the index of an MP4 or MOV file (ISO/IEC 14496-12) says about one of its tracks. */
export interface TrackClaim {
  readonly isVideo: boolean
  /** The most samples that any of its tables speaks of. */
  readonly samples: number
  /** All its samples' durations together, s. */
  readonly listedS: number
  /** How long it says that it is, s; 0 when it does not say. */
  readonly statedS: number
}

/** An hour at 240 frames a second has an index of some 20 MB. */
const LARGEST_INDEX_BYTES = 64e6
/** Two hours and a half at 240 frames a second. */
const MOST_SAMPLES = 2e6
/** Top level boxes looked through; a file in fragments has two for each. */
const MOST_BOXES = 100_000

/**
 * The tracks in the index of an MP4 or MOV file; none when the index is not in one piece (then ffmpeg says what is
 * wrong). Throws a `ClipProblem` when the index is larger than any clip needs.
 */
export async function readMp4Claims(file: FileHandle, fileName: string): Promise<readonly TrackClaim[]> {
  const { size: fileBytes } = await file.stat()
  const head = Buffer.alloc(16)
  let at = 0
  for (let boxes = 0; at + 8 <= fileBytes && boxes < MOST_BOXES; boxes++) {
    await file.read(head, 0, 16, at)
    const short = head.readUInt32BE(0)
    const size = short === 1 ? Number(head.readBigUInt64BE(8)) : short === 0 ? fileBytes - at : short
    if (size < 8) return []
    if (head.toString('latin1', 4, 8) === 'moov') {
      const bytes = Math.min(size, fileBytes - at)
      if (bytes > LARGEST_INDEX_BYTES) throw tooMuch(fileName, `an index of ${Math.round(bytes / 1e6)} MB`)
      const index = Buffer.alloc(bytes)
      await file.read(index, 0, bytes, at)
      return boxesIn(index.subarray(short === 1 ? 16 : 8))
        .filter(({ type }) => type === 'trak')
        .map(({ content }) => claimOf(content))
    }
    at += size
  }
  return []
}

/**
 * Refuses an index that speaks of more samples than the file can hold, or whose list of frame times does not add up to
 * the length that it states, since then no time can be believed.
 *
 * @returns sentences about smaller contradictions
 */
export function checkClaims(claims: readonly TrackClaim[], fileBytes: number, fileName: string): string[] {
  const most = Math.max(0, ...claims.map(({ samples }) => samples))
  if (most > Math.min(fileBytes, MOST_SAMPLES)) throw tooMuch(fileName, `${most} pictures or pieces of sound`)
  const notes: string[] = []
  for (const { isVideo, listedS, statedS } of claims) {
    const offS = Math.abs(listedS - statedS)
    if (!isVideo || statedS === 0 || listedS === 0) continue
    const says = `its frames last ${listedS.toFixed(1)} s together, but it states ${statedS.toFixed(1)} s`
    if (offS > Math.max(0.5, 0.1 * statedS)) {
      throw new ClipProblem(
        'damaged',
        `${fileName} contradicts itself (${says}), so no time in it can be believed: copy it from the phone again.`,
      )
    }
    if (offS > Math.max(0.2, 0.01 * statedS)) notes.push(`The file may be damaged: ${says}.`)
  }
  return notes
}

function tooMuch(fileName: string, what: string): ClipProblem {
  return new ClipProblem(
    'damaged',
    `${fileName} claims to hold ${what}, more than a clip of its size can: copy it from the phone again.`,
  )
}

interface Box {
  readonly type: string
  readonly content: Buffer
}

/** The boxes that follow one another in `bytes`, as far as they are whole. */
function boxesIn(bytes: Buffer): Box[] {
  const boxes: Box[] = []
  let at = 0
  while (at + 8 <= bytes.length) {
    const size = bytes.readUInt32BE(at)
    if (size < 8 || at + size > bytes.length) break
    boxes.push({ type: bytes.toString('latin1', at + 4, at + 8), content: bytes.subarray(at + 8, at + size) })
    at += size
  }
  return boxes
}

function inside(bytes: Buffer, ...path: readonly string[]): Buffer | null {
  return path.reduce<Buffer | null>(
    (outer, type) => (outer === null ? null : (boxesIn(outer).find((box) => box.type === type)?.content ?? null)),
    bytes,
  )
}

function claimOf(track: Buffer): TrackClaim {
  const handler = inside(track, 'mdia', 'hdlr')
  const tables = inside(track, 'mdia', 'minf', 'stbl') ?? Buffer.alloc(0)
  const { perSecond, ticks } = mediaHeader(inside(track, 'mdia', 'mdhd'))
  const durations = runs(inside(tables, 'stts'))
  const counted = [durations, runs(inside(tables, 'ctts'))].map((list) =>
    list.reduce((sum, { count }) => sum + count, 0),
  )
  const sizes = inside(tables, 'stsz')
  const sized = sizes === null || sizes.length < 12 ? 0 : sizes.readUInt32BE(8)
  const listedTicks = durations.reduce((sum, { count, value }) => sum + count * value, 0)
  return {
    isVideo: handler !== null && handler.length >= 12 && handler.toString('latin1', 8, 12) === 'vide',
    samples: Math.max(sized, ...counted),
    listedS: perSecond > 0 ? listedTicks / perSecond : 0,
    statedS: perSecond > 0 ? ticks / perSecond : 0,
  }
}

/** Units a second and length in them; a length of all ones means that it is not known. */
function mediaHeader(header: Buffer | null): { perSecond: number; ticks: number } {
  const unknown = { perSecond: 0, ticks: 0 }
  if (header === null || header.length < 20) return unknown
  if (header[0] === 0) {
    const ticks = header.readUInt32BE(16)
    return { perSecond: header.readUInt32BE(12), ticks: ticks === 0xffffffff ? 0 : ticks }
  }
  if (header.length < 32) return unknown
  const ticks = header.readBigUInt64BE(24)
  return { perSecond: header.readUInt32BE(20), ticks: ticks === 0xffffffffffffffffn ? 0 : Number(ticks) }
}

/** A table of runs (`stts`, `ctts`): so many samples with the same value. */
function runs(table: Buffer | null): { readonly count: number; readonly value: number }[] {
  if (table === null || table.length < 8) return []
  const entries = Math.min(table.readUInt32BE(4), Math.floor((table.length - 8) / 8))
  return Array.from({ length: entries }, (_, k) => ({
    count: table.readUInt32BE(8 + 8 * k),
    value: table.readUInt32BE(12 + 8 * k),
  }))
}
