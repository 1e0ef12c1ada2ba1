import { createHash } from 'node:crypto'
import { createReadStream, createWriteStream } from 'node:fs'
import { mkdir, readdir, rm, stat } from 'node:fs/promises'
import { dirname, isAbsolute, join, resolve } from 'node:path'
import { Transform, Writable, type Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import yauzl, { type Entry, type ZipFile } from 'yauzl'
import yazl from 'yazl'
import { z } from 'zod'
import type { BackupContents } from '../contract/settings.ts'
import { jsonText } from '../files/json-file.ts'
import { makeFolder } from '../files/make-folder.ts'
import { flush, writeWhole } from '../files/whole-file.ts'
import { programVersion } from '../program-version.ts'
import { BIN } from './bin-folder.ts'
import { CLIP_FILES, noEntries, PACKS } from './kept-files.ts'
import { type Kind, KINDS } from './kinds.ts'
import { LIBRARY_FILE } from './library-folder.ts'
import { LibraryProblem } from './library-problem.ts'
import { SET_ASIDE } from './set-aside.ts'

/** What a backup holds of a library. The index and prepared pictures are made anew. */
const PARTS = [LIBRARY_FILE, ...KINDS, CLIP_FILES, PACKS, BIN, SET_ASIDE]
/** In the backup: which files it holds, and what they are. */
const LIST = 'backup.json'
const MOST_LIST_BYTES = 200_000_000

const listShape = z.object({
  schema: z.literal('tiphold.backup/1'),
  /** ISO 8601; backups of older programs do not say. */
  madeAt: z.string().max(40).optional(),
  files: z.record(z.string(), z.object({ bytes: z.number().int().min(0), sha256: z.string().length(64) })),
})
type List = z.infer<typeof listShape>

export interface Backup {
  readonly path: string
  readonly files: number
  readonly bytes: number
}

/** Writes all of a library whose files are at rest into one ZIP file at `path`: whole or not at all. */
export async function writeBackup(folder: string, path: string): Promise<Backup> {
  if (!isAbsolute(path) || !path.toLowerCase().endsWith('.zip')) {
    throw new LibraryProblem('bad-input', `${path}: give the whole path of a file whose name ends in .zip.`)
  }
  const names = (await Promise.all(PARTS.map((part) => filesBelow(folder, part)))).flat()
  const files: List['files'] = {}
  for (const name of names) {
    const from = join(folder, ...name.split('/'))
    files[name] = { bytes: (await stat(from)).size, sha256: await sha256Of(createReadStream(from)) }
  }
  await makeFolder(dirname(path))
  await writeWhole(path, async (partPath) => {
    const zip = new yazl.ZipFile()
    const written = pipeline(zip.outputStream, createWriteStream(partPath))
    // A file that vanishes meanwhile ends the whole backup with its error.
    zip.on('error', (error: Error) => (zip.outputStream as unknown as Readable).destroy(error))
    const madeAt = new Date().toISOString()
    const list = { schema: 'tiphold.backup/1', madeAt, program: { version: programVersion }, files }
    zip.addBuffer(Buffer.from(jsonText(list)), LIST)
    // Parts are packed already, and so are films.
    for (const name of names) zip.addFile(join(folder, ...name.split('/')), name, { compress: name.endsWith('.json') })
    zip.end()
    await written
  })
  return { path, files: names.length, bytes: (await stat(path)).size }
}

/** What a backup says that it holds; nothing of it is believed before it is restored. */
export async function lookIntoBackup(path: string): Promise<BackupContents> {
  try {
    const zip = await opened(path)
    try {
      for (let entry = await nextEntry(zip); entry !== null; entry = await nextEntry(zip)) {
        if (entry.fileName !== LIST || entry.uncompressedSize > MOST_LIST_BYTES) continue
        return contentsOf(listShape.parse(JSON.parse(await textOf(await streamOf(zip, entry)))))
      }
    } finally {
      zip.close()
    }
  } catch {
    // Told below.
  }
  throw new LibraryProblem('unreadable', 'This file is no backup of a library, or it is damaged: choose another.')
}

function contentsOf({ madeAt, files }: List): BackupContents {
  const count = (pattern: RegExp): number => Object.keys(files).filter((name) => pattern.test(name)).length
  const cards = (kind: Kind): number => count(new RegExp(`^${kind}/[^/]+/card\\.json$`))
  return {
    madeAt: madeAt ?? null,
    bytes: Object.values(files).reduce((sum, { bytes }) => sum + bytes, 0),
    dogs: cards('dogs'),
    boards: cards('boards'),
    clips: cards('clips'),
    rides: cards('rides'),
    ridesNotFilmed: cards('noted'),
    packs: count(new RegExp(`^${PACKS}/pack-[^/]+/pack\\.json$`)),
  }
}

/**
 * Puts a backup into a folder that is empty or not there yet; every file is compared with what it was when it was
 * backed up. If anything is wrong, the folder is left empty.
 */
export async function restoreBackup(path: string, folder: string): Promise<Backup> {
  const to = resolve(folder)
  await makeFolder(to)
  const [found] = await readdir(to)
  if (found !== undefined) {
    throw new LibraryProblem('bad-input', `${to} holds other things (${found}): restore into an empty folder.`)
  }
  try {
    const zip = await opened(path)
    try {
      return { path, ...(await unpacked(zip, to)) }
    } finally {
      zip.close()
    }
  } catch (error) {
    for (const name of await readdir(to)) await rm(join(to, name), { recursive: true, force: true })
    if (error instanceof LibraryProblem) throw error
    if (error instanceof Error && 'code' in error && ['ENOSPC', 'EACCES', 'EROFS'].includes(String(error.code)))
      throw error
    throw damaged(path)
  }
}

function damaged(path: string): LibraryProblem {
  return new LibraryProblem('unreadable', `${path} is no backup of a library, or it is damaged: nothing was restored.`)
}

async function unpacked(zip: ZipFile, to: string): Promise<{ readonly files: number; readonly bytes: number }> {
  let list: List | null = null
  let count = 0
  let bytes = 0
  for (let entry = await nextEntry(zip); entry !== null; entry = await nextEntry(zip)) {
    if (entry.fileName === LIST) {
      if (entry.uncompressedSize > MOST_LIST_BYTES) throw new Error('too long a list')
      list = listShape.parse(JSON.parse(await textOf(await streamOf(zip, entry))))
      continue
    }
    const told = list?.files[entry.fileName]
    if (told === undefined || !isOfLibrary(entry.fileName) || entry.uncompressedSize !== told.bytes)
      throw new Error(`${entry.fileName}: not in the list`)
    const target = join(to, ...entry.fileName.split('/'))
    await mkdir(dirname(target), { recursive: true })
    const hash = createHash('sha256')
    const watched = new Transform({
      transform(chunk: Buffer, _encoding, done) {
        hash.update(chunk)
        done(null, chunk)
      },
    })
    await pipeline(await streamOf(zip, entry), watched, createWriteStream(target, { flags: 'wx' }))
    await flush(target, 'r+')
    if (hash.digest('hex') !== told.sha256) throw new Error(`${entry.fileName}: not as it was`)
    count++
    bytes += told.bytes
  }
  if (list === null || count !== Object.keys(list.files).length) throw new Error('files are missing')
  return { files: count, bytes }
}

/** Names lead nowhere but into the library. */
function isOfLibrary(name: string): boolean {
  const parts = name.split('/')
  const isPlain = parts.every((part) => part !== '' && part !== '.' && part !== '..' && !/[\\:\0]/.test(part))
  return isPlain && PARTS.includes(parts[0] ?? '')
}

async function filesBelow(folder: string, name: string): Promise<string[]> {
  const path = join(folder, ...name.split('/'))
  const here = await stat(path).catch(() => null)
  if (here === null) return []
  if (here.isFile()) return [name]
  const entries = await readdir(path, { withFileTypes: true }).catch(noEntries)
  const below = await Promise.all(
    entries.map((entry): Promise<string[]> => {
      if (entry.isDirectory()) return filesBelow(folder, `${name}/${entry.name}`)
      // What a killed program left half written is nobody's.
      return Promise.resolve(entry.isFile() && !/^\..*\.part$/.test(entry.name) ? [`${name}/${entry.name}`] : [])
    }),
  )
  return below.flat().sort()
}

function opened(path: string): Promise<ZipFile> {
  return new Promise((done, fail) => {
    yauzl.open(path, { lazyEntries: true, autoClose: false }, (error, zip) =>
      error === null ? done(zip) : fail(error),
    )
  })
}

function nextEntry(zip: ZipFile): Promise<Entry | null> {
  return new Promise((done, fail) => {
    const settle = (act: () => void) => {
      zip.removeAllListeners('entry').removeAllListeners('end').removeAllListeners('error')
      act()
    }
    zip.on('entry', (entry: Entry) => settle(() => done(entry)))
    zip.on('end', () => settle(() => done(null)))
    zip.on('error', (error: Error) => settle(() => fail(error)))
    zip.readEntry()
  })
}

function streamOf(zip: ZipFile, entry: Entry): Promise<Readable> {
  return new Promise((done, fail) => {
    zip.openReadStream(entry, (error, stream) => (error === null ? done(stream) : fail(error)))
  })
}

async function textOf(stream: Readable): Promise<string> {
  const chunks: Buffer[] = []
  await pipeline(
    stream,
    new Writable({
      write(chunk: Buffer, _encoding, done) {
        chunks.push(chunk)
        done()
      },
    }),
  )
  return Buffer.concat(chunks).toString('utf8')
}

async function sha256Of(stream: Readable): Promise<string> {
  const hash = createHash('sha256')
  await pipeline(stream, hash)
  return hash.digest('hex')
}
