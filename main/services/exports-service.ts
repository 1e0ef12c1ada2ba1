import { randomUUID } from 'node:crypto'
import { mkdtemp, rm, stat } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { rideName, sentRideName } from '../../analysis/words/ride-name.ts'
import type { Handlers, Happening } from '../contract/calls.ts'
import type { Export, ExportOrder, ExportState, ExportWhat } from '../contract/exports.ts'
import { problem, success } from '../contract/outcome.ts'
import { chooseFfmpeg, NoFfmpegError } from '../film/engines/ffmpeg-choice.ts'
import {
  type RideSource,
  writeClip,
  writeComments,
  writeNumbers,
  writeReport,
  writeStill,
} from '../outputs/export/export-rides.ts'
import { writeReviewPack } from '../outputs/export/export-pack.ts'
import { OutputProblem } from '../files/output-folder.ts'
import { writeWholeText } from '../files/whole-file.ts'
import type { Library } from '../library/library.ts'
import { LibraryProblem } from '../library/library-problem.ts'
import { ClipProblem } from '../film/media/clip-problem.ts'
import { PackProblem } from '../outputs/review/pack-files.ts'
import { replyText } from '../outputs/review/review-file.ts'
import type { ClipFiles } from './clips-files.ts'
import { harmlessName } from './handed-files.ts'
import type { PacksService } from './packs-service.ts'

/** A file that lies ready to be saved. */
export interface ReadyFile {
  readonly path: string
  readonly fileName: string
  readonly bytes: number
}

/** Files that were ordered; what lies ready is given by its id until the program ends. */
export interface Exports {
  ready(exportId: string): ReadyFile | null
}

export interface ExportsService extends Exports {
  readonly handlers: Pick<Handlers, 'exports.start' | 'exports.get' | 'exports.stop'>
  /** Stops what runs and throws all that lies ready away. */
  close(): Promise<void>
}

export interface ExportsParts {
  readonly library: Library
  readonly files: ClipFiles
  readonly packs: Pick<PacksService, 'store' | 'self'>
  /** Where the page of packs was built; null: packs cannot be made. */
  readonly pageFolder: string | null
  readonly tell: (happening: Happening) => void
}

interface Kept {
  export: Export
  readonly stop: AbortController
  readonly path: string
  over: Promise<void>
}

const ENDINGS: Readonly<Record<ExportWhat, string>> = {
  'report-html': '.html',
  'report-pdf': '.pdf',
  still: '.png',
  clip: '.mp4',
  'numbers-csv': '.csv',
  'numbers-json': '.json',
  comments: ', comments.txt',
  pack: ', for the coach.zip',
  reply: ', reply.json',
}
/** So often is told how far a file is, ms. */
const TELL_EVERY_MS = 200
/** Files that lie ready; the oldest go first. */
const MOST_READY = 20

export function exportsService({ library, files, packs, pageFolder, tell }: ExportsParts): ExportsService {
  const all = new Map<string, Kept>()
  let folder: Promise<string> | null = null

  function set(kept: Kept, state: ExportState): void {
    kept.export = { ...kept.export, state }
    tell({ kind: 'export', export: kept.export })
  }

  async function make(kept: Kept, order: ExportOrder): Promise<void> {
    try {
      const { name, contains } = await write(kept, order)
      kept.stop.signal.throwIfAborted()
      const { size } = await stat(kept.path)
      set(kept, { kind: 'ready', fileName: harmlessName(`${name}${ENDINGS[order.what]}`), bytes: size, contains })
    } catch (error) {
      await rm(kept.path, { force: true })
      if (kept.stop.signal.aborted) set(kept, { kind: 'stopped' })
      else set(kept, { kind: 'failed', message: sentenceOf(error) })
    }
  }

  async function write(kept: Kept, order: ExportOrder): Promise<{ name: string; contains: readonly string[] }> {
    if (order.what === 'reply') return writeReply(kept, order.packId)
    const { signal } = kept.stop
    const ride = await library.rides.get(order.rideId)
    const card = library.rides.cards().find(({ id }) => id === order.rideId)
    if (ride === null || card === undefined)
      throw new LibraryProblem('not-found', 'This ride is no longer in the library.')
    const ffmpeg = await chooseFfmpeg()
    const source: RideSource = {
      card,
      ride,
      ffmpeg,
      signal,
      onProgress: progressOf(kept),
      clip: async () => {
        const opened = await files.open(ride.clipId, signal)
        if (!opened.ok) throw new LibraryProblem(opened.error.code, opened.error.message)
        return opened.value
      },
    }
    const name = rideName(card)
    switch (order.what) {
      case 'report-html':
      case 'report-pdf':
        await writeReport(source, order.what === 'report-pdf', kept.path)
        return { name, contains: [] }
      case 'still':
        await writeStill(source, order, kept.path)
        return { name: `${sentRideName(card)}, ${order.atS.toFixed(2)} s`, contains: [] }
      case 'clip':
        await writeClip(source, order, kept.path)
        return { name: sentRideName(card), contains: [] }
      case 'numbers-csv':
      case 'numbers-json':
        await writeNumbers(source, order.what === 'numbers-csv', kept.path)
        return { name, contains: [] }
      case 'comments':
        await writeComments(source, kept.path)
        return { name, contains: [] }
      case 'pack': {
        if (pageFolder === null)
          throw new LibraryProblem('not-ready', 'The page of packs was not built: start Tiphold again.')
        const self = await packs.self.setName(order.name)
        const marks = library.clips.get(ride.clipId)?.marks
        if (marks === undefined)
          throw new LibraryProblem('not-found', 'The clip of this ride is no longer in the library.')
        const pack = { ...source, ffmpeg, marks, self, pageFolder }
        return { name: sentRideName(card), contains: await writeReviewPack(pack, order, kept.path) }
      }
    }
  }

  async function writeReply(kept: Kept, packId: string): Promise<{ name: string; contains: readonly string[] }> {
    const detail = await packs.store.detail(packId)
    const items = detail.items.filter(({ author }) => author.id !== detail.handlerId)
    await writeWholeText(kept.path, replyText({ packId: detail.packId, rideId: detail.rideId, items }))
    const { dogName, title } = detail.card
    return { name: dogName === '' ? title : `${dogName}, ${title}`, contains: [] }
  }

  function progressOf(kept: Kept): RideSource['onProgress'] {
    let toldMs = -Infinity
    return (doing, shareDone) => {
      if (performance.now() - toldMs < TELL_EVERY_MS || kept.stop.signal.aborted) return
      toldMs = performance.now()
      set(kept, { kind: 'running', doing, shareDone })
    }
  }

  async function letGo(id: string): Promise<void> {
    const kept = all.get(id)
    if (kept === undefined) return
    kept.stop.abort()
    await kept.over
    all.delete(id)
    await rm(kept.path, { force: true })
  }

  const gone = problem('not-found', 'This file is no longer there: make it again.')
  return {
    handlers: {
      'exports.start': async (order) => {
        folder ??= mkdtemp(join(tmpdir(), 'tiphold-export-'))
        const id = randomUUID()
        const state = { kind: 'running', doing: 'Beginning', shareDone: null } as const
        const kept: Kept = {
          export: { id, what: order.what, state },
          stop: new AbortController(),
          path: join(await folder, id),
          over: Promise.resolve(),
        }
        all.set(id, kept)
        kept.over = make(kept, order)
        for (const oldest of all.keys()) {
          if (all.size <= MOST_READY) break
          await letGo(oldest)
        }
        return success(kept.export)
      },
      'exports.get': ({ exportId }) => {
        const kept = all.get(exportId)
        return Promise.resolve(kept === undefined ? gone : success(kept.export))
      },
      'exports.stop': async ({ exportId }) => {
        await letGo(exportId)
        return success(null)
      },
    },
    ready(exportId) {
      const kept = all.get(exportId)
      if (kept?.export.state.kind !== 'ready') return null
      const { fileName, bytes } = kept.export.state
      return { path: kept.path, fileName, bytes }
    },
    async close() {
      await Promise.all([...all.keys()].map(letGo))
      if (folder !== null) await rm(await folder, { recursive: true, force: true })
    },
  }
}

function sentenceOf(error: unknown): string {
  const isOurs = [LibraryProblem, ClipProblem, NoFfmpegError, OutputProblem, PackProblem].some(
    (kind) => error instanceof kind,
  )
  if (isOurs && error instanceof Error) return error.message
  if (error instanceof Error && 'code' in error && error.code === 'ENOSPC') {
    return 'The disk is full: make room and try again.'
  }
  return 'The file could not be made. This is our fault, not yours.'
}
