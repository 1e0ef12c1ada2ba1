import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { mkdir, readFile, rename, writeFile } from 'node:fs/promises'
import { basename, join, parse } from 'node:path'
import { lock } from 'proper-lockfile'
import type { DropTestFile } from '../../analysis/drop/drop-test.ts'
import { chooseFfmpeg } from '../../main/film/engines/ffmpeg-choice.ts'
import { readBoardFile } from '../../main/files/board-file.ts'
import { readMarksFile } from '../../main/files/marks-file.ts'
import type { SampleClip } from '../../main/files/sample-clips.ts'
import type { RideRecord } from '../../main/library/library.ts'
import { rideRecordOf } from '../../main/library/ride-record.ts'
import { measureClip } from '../../main/measuring/measure-clip.ts'
import type { MeasureClipRequest } from '../../main/measuring/measured-ride.ts'
import { measureDrops } from '../../main/measuring/measure-drops.ts'
import { importClosure } from './import-closure.ts'

const ROOT = join(import.meta.dirname, '../..')
/** What was measured, by a hash of everything that it was measured with and from. */
const FOLDER = join(ROOT, 'out/measured-clips')

/** What the measuring says of one clip: rides as the library keeps them, or drops. */
export type MeasuredClip =
  | { readonly kind: 'rides'; readonly rides: readonly RideRecord[] }
  | { readonly kind: 'drops'; readonly drops: DropTestFile['drops'] }
  | { readonly kind: 'failed'; readonly detail: string; readonly looksLikeDropTest?: boolean }

/** What a measurement depends on beside the program. */
export type Measurable = Omit<MeasureClipRequest, 'signal' | 'onProgress'> & {
  readonly weight?: SampleClip['weight']
}

/** Measures a clip as the command line does, with nothing given but its marks and board; once, as `measuredOnce` says. */
export async function measuredClip({ clipPath, marksPath, boardPath, weight }: SampleClip): Promise<MeasuredClip> {
  const [marks, board] = [await readMarksFile(marksPath), await readBoardFile(boardPath)]
  if (!marks.ok) throw new Error(marks.message)
  if (!board.ok) throw new Error(board.message)
  const order = { clipPath, marks: marks.value, board: board.value, weight }
  return measuredOnce(order, () => measure(order))
}

/**
 * What is measured of a clip, measured once for all tests and benches: as long as neither the clip, what was ordered nor
 * any source of the measuring has changed, what was measured is read again. Processes that want the same at once wait
 * for the first.
 *
 * @param measure done where nothing is kept yet; what it throws is thrown on, and nothing is kept
 */
export async function measuredOnce(order: Measurable, measure: () => Promise<MeasuredClip>): Promise<MeasuredClip> {
  await mkdir(FOLDER, { recursive: true })
  const { name } = parse(order.clipPath)
  const file = join(FOLDER, `${name}-${await stampOf(order)}.json`)
  const release = await lock(file, { realpath: false, retries: { retries: 2400, minTimeout: 250, maxTimeout: 250 } })
  try {
    const kept = await readFile(file, 'utf8').catch(() => null)
    if (kept !== null) return JSON.parse(kept) as MeasuredClip
    const measured = JSON.stringify(await measure())
    await writeFile(`${file}.part`, measured)
    await rename(`${file}.part`, file)
    return JSON.parse(measured) as MeasuredClip
  } finally {
    await release()
  }
}

let programHash: string | null = null

async function stampOf(order: Measurable): Promise<string> {
  const measuring = ['measure-clip.ts', 'measure-drops.ts'].map((name) => join(ROOT, 'main/measuring', name))
  programHash ??= hashOf([...new Set(measuring.flatMap(importClosure)), join(ROOT, 'package-lock.json')])
  const { version, source } = await chooseFfmpeg()
  const { clipPath, weight, ...rest } = order
  // What the window's order says of the clip's content is in the hash of the clip.
  const ordered = JSON.stringify({ ...rest, weight: weight ?? undefined, sha256: undefined }, byName)
  const inputs = [programHash, basename(clipPath), hashOf([clipPath]), ordered, source, version]
  return createHash('sha256').update(inputs.join('\n')).digest('hex').slice(0, 24)
}

/** A replacer for `JSON.stringify`: the same text, whatever the order of the fields. */
function byName(_: string, value: unknown): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
}

function hashOf(files: readonly string[]): string {
  const hash = createHash('sha256')
  for (const file of files) hash.update(readFileSync(file)).update('\0')
  return hash.digest('hex')
}

async function measure({ clipPath, marks, board, weight = null }: Measurable): Promise<MeasuredClip> {
  const rest = { board, signal: new AbortController().signal, onProgress: () => undefined }
  if (weight !== null) {
    const outcome = await measureDrops({ drops: [{ clipPath, marks, ...weight }], ...rest })
    if (outcome.kind !== 'measured') return { kind: 'failed', detail: outcome.detail }
    return { kind: 'drops', drops: outcome.drops.map(({ drop }) => drop) }
  }
  const outcome = await measureClip({ clipPath, marks, ...rest })
  if (outcome.kind === 'nothing')
    return { kind: 'failed', detail: outcome.detail, looksLikeDropTest: outcome.looksLikeDropTest === true }
  if (outcome.kind !== 'measured') return { kind: 'failed', detail: outcome.detail }
  return { kind: 'rides', rides: outcome.rides.map(rideRecordOf) }
}
