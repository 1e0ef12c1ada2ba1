import { readdir, rm, stat } from 'node:fs/promises'
import { isAbsolute, join } from 'node:path'
import type { Handlers } from '../contract/calls.ts'
import type { LibraryPlace } from '../contract/settings.ts'
import { isMissing } from '../library/kept-files.ts'
import { lookIntoBackup, restoreBackup } from '../library/backup.ts'
import { isInside } from '../library/empty-folder.ts'
import { answered, LibraryProblem } from '../library/library-problem.ts'
import { openLibrary, type OpenLibrary } from '../library/open-library.ts'
import type { HandedFiles } from './handed-files.ts'

/** @param onPicturesGone called after prepared pictures were thrown away or left behind, so that nobody counts on them */
export function libraryServices(
  library: OpenLibrary,
  handed: Pick<HandedFiles, 'pathOf' | 'letGo'>,
  onPicturesGone: () => void = () => undefined,
): Pick<
  Handlers,
  | 'library.unreadable'
  | 'library.place'
  | 'library.backUp'
  | 'library.lookIntoBackup'
  | 'library.restore'
  | 'library.letBackupGo'
  | 'library.openNext'
  | 'library.move'
  | 'library.emptyPictures'
> {
  const place = async (): Promise<LibraryPlace> => ({
    folder: library.folder,
    rides: library.rides.cards().length,
    clips: library.clips.list().length,
    pictureBytes: await bytesIn(library.picturesFolder),
  })
  const pathOf = (fileId: string): string => {
    const path = handed.pathOf(fileId)
    if (path === null) throw new LibraryProblem('not-found', 'This file was not handed over: choose it again.')
    return path
  }
  return {
    'library.unreadable': () => answered(() => library.unreadable()),

    'library.place': () => answered(place),

    'library.backUp': ({ path }) =>
      answered(async () => {
        const { bytes, clipsElsewhere } = await library.backUp(path)
        return { path, bytes, clipsElsewhere }
      }),

    'library.lookIntoBackup': ({ fileId }) => answered(() => lookIntoBackup(pathOf(fileId))),

    'library.restore': ({ fileId, folder }) =>
      answered(async () => {
        if (!isAbsolute(folder)) throw refusal(folder, 'give the full path, from the drive or root on')
        if (await isInside(folder, library.folder)) {
          throw refusal(folder, 'this is inside the library that is open; choose another folder')
        }
        await restoreBackup(pathOf(fileId), folder)
        const restored = await openLibrary(folder)
        const counts = { rides: restored.rides.cards().length, clips: restored.clips.list().length }
        await restored.close()
        return { folder, ...counts }
      }),

    'library.letBackupGo': ({ fileId }) =>
      answered(async () => {
        await handed.letGo(fileId)
        return null
      }),

    'library.openNext': ({ folder }) =>
      answered(async () => {
        await library.openNext(folder)
        return null
      }),

    'library.move': ({ folder }) =>
      answered(async () => {
        await library.moveTo(folder)
        onPicturesGone()
        return place()
      }),

    'library.emptyPictures': () =>
      answered(async () => {
        await rm(library.picturesFolder, { recursive: true, force: true })
        onPicturesGone()
        return place()
      }),
  }
}

function refusal(folder: string, what: string): LibraryProblem {
  return new LibraryProblem('bad-input', `The backup cannot be restored to ${folder}: ${what}.`)
}

/** Bytes of all files below a folder; those that vanish meanwhile do not count. */
async function bytesIn(folder: string): Promise<number> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(nothing<never[]>([]))
  let bytes = 0
  for (const entry of entries) {
    const path = join(folder, entry.name)
    if (entry.isDirectory()) bytes += await bytesIn(path)
    else bytes += (await stat(path).catch(nothing({ size: 0 }))).size
  }
  return bytes
}

function nothing<T>(instead: T): (error: unknown) => T {
  return (error) => {
    if (isMissing(error)) return instead
    throw error
  }
}
