import { randomUUID } from 'node:crypto'
import { createWriteStream } from 'node:fs'
import { mkdir, readdir, rename, rm, stat } from 'node:fs/promises'
import { basename, dirname, isAbsolute, join, relative } from 'node:path'
import { type Readable, Transform } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { type Outcome, problem, success } from '../contract/outcome.ts'

/** Files that the handler handed over. The window knows them by id only; what is not registered cannot be asked for. */
export interface HandedFiles {
  /** A file that stays where it is, by its absolute path. */
  register(path: string): Promise<Outcome<{ readonly fileId: string }>>
  /** A file that comes as a stream and is written into the folder for uploads; nothing is left of one that breaks off. */
  receive(name: string, bytes: Readable): Promise<Outcome<{ readonly fileId: string }>>
  /** The absolute path behind an id; null for an id that was never given. */
  pathOf(fileId: string): string | null
  /** Deletes a received file that is not needed; a file that stayed in its place is only forgotten. */
  letGo(fileId: string): Promise<void>
}

export const LARGEST_FILE_BYTES = 8 * 2 ** 30
const UNFINISHED = '.part'

/** `uploadsFolder` is asked at each upload, since the library may move. */
export function openHandedFiles(uploadsFolder: () => string, largestBytes = LARGEST_FILE_BYTES): HandedFiles {
  const files = new Map<string, { readonly path: string; readonly isOurs: boolean }>()

  function remember(path: string, isOurs: boolean): Outcome<{ readonly fileId: string }> {
    const fileId = randomUUID()
    files.set(fileId, { path, isOurs })
    return success({ fileId })
  }

  return {
    async register(path) {
      const found = isAbsolute(path) && !path.includes('\0') ? await stat(path).catch(() => null) : null
      if (found === null) return problem('file-missing', 'This file is no longer where it was. Choose it again.')
      if (!found.isFile()) return problem('unreadable', 'This is not a file but a folder. Choose one clip.')
      return remember(path, false)
    },

    async receive(name, bytes) {
      const folder = join(uploadsFolder(), randomUUID())
      const path = join(folder, harmlessName(name))
      try {
        await mkdir(folder, { recursive: true })
        await pipeline(bytes, atMost(largestBytes), createWriteStream(path + UNFINISHED, { flags: 'wx' }))
        await rename(path + UNFINISHED, path)
        return remember(path, true)
      } catch (error) {
        await rm(folder, { recursive: true, force: true })
        return refusal(error, largestBytes)
      }
    },

    pathOf: (fileId) => files.get(fileId)?.path ?? null,

    async letGo(fileId) {
      const file = files.get(fileId)
      files.delete(fileId)
      if (file?.isOurs === true) await rm(join(file.path, '..'), { recursive: true, force: true })
    },
  }
}

/**
 * Removes uploads that no clip needs: those that a crash cut off, and finished ones that were never taken in. Only
 * folders that an upload has made are looked at, and nothing in which a clip lies is touched.
 *
 * @param neededPaths absolute paths of all clips, those in the bin included
 * @returns how many files were removed, and how many bytes they had
 */
export async function sweepUploads(
  uploadsFolder: string,
  neededPaths: readonly string[],
): Promise<{ readonly files: number; readonly bytes: number }> {
  const needed = new Set(neededPaths.map((path) => basename(dirname(relative(uploadsFolder, path)))))
  const entries = await readdir(uploadsFolder, { withFileTypes: true }).catch(() => [])
  const uploads = entries.filter((entry) => entry.isDirectory() && UPLOAD.test(entry.name) && !needed.has(entry.name))
  let [files, bytes] = [0, 0]
  for (const { name } of uploads) {
    const folder = join(uploadsFolder, name)
    const held = await readdir(folder, { withFileTypes: true })
    // An upload is one file alone; anything else was put there by somebody.
    if (held.length > 1 || held.some((entry) => !entry.isFile())) continue
    for (const file of held) bytes += (await stat(join(folder, file.name))).size
    files += held.length
    await rm(folder, { recursive: true, force: true })
  }
  return { files, bytes }
}

/** The name of an upload's folder, as `randomUUID` gives it. */
const UPLOAD = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/

/** A file name that means the same on every system and leads nowhere: `../Rex: run 2?.mp4` gives `Rex_ run 2_.mp4`. */
export function harmlessName(name: string): string {
  const last = basename(name.replaceAll('\\', '/'))

  const plain = last.replace(/[\u0000-\u001f\u007f<>:"|?*]/g, '_').replace(/^\.+|[. ]+$/g, '')
  const isDevice = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i.test(plain)
  return plain === '' || isDevice ? `clip ${plain}`.trim() : shortened(plain)
}

/** The start of a long name with its ending kept, in at most 200 bytes. */
function shortened(name: string): string {
  const ending = /\.[A-Za-z0-9]{1,8}$/.exec(name)?.[0] ?? ''
  let stem = [...name.slice(0, name.length - ending.length)]
  while (Buffer.byteLength(stem.join('')) > 190) stem = stem.slice(0, -1)
  return stem.join('') + ending
}

class TooLarge extends Error {}

function atMost(largestBytes: number): Transform {
  let bytes = 0
  return new Transform({
    transform(chunk: Buffer, _encoding, done) {
      bytes += chunk.length
      if (bytes > largestBytes) done(new TooLarge())
      else done(null, chunk)
    },
  })
}

function refusal(error: unknown, largestBytes: number): Outcome<never> {
  if (error instanceof TooLarge) {
    return problem('bad-input', `The file is larger than ${gigabytes(largestBytes)}. Cut out the ride and try again.`)
  }
  if ((error as NodeJS.ErrnoException).code === 'ENOSPC') {
    return problem('failed', 'The disk that holds the library is full. Make room and try again.')
  }
  if (['EACCES', 'EPERM', 'EROFS'].includes((error as NodeJS.ErrnoException).code ?? '')) {
    return problem('failed', 'The library may not be written. Change its permissions and try again.')
  }
  return problem('failed', 'The file did not arrive complete. Try again.')
}

function gigabytes(bytes: number): string {
  return `${Math.round(bytes / 2 ** 30)} GB`
}
