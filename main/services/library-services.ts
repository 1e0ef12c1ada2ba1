import { readdir, rm, stat } from 'node:fs/promises'
import { join } from 'node:path'
import type { Handlers } from '../contract/calls.ts'
import type { LibraryPlace } from '../contract/settings.ts'
import { isMissing } from '../library/kept-files.ts'
import { answered } from '../library/library-problem.ts'
import type { OpenLibrary } from '../library/open-library.ts'

/** @param onPicturesGone called after prepared pictures were thrown away or left behind, so that nobody counts on them */
export function libraryServices(
  library: OpenLibrary,
  onPicturesGone: () => void = () => undefined,
): Pick<
  Handlers,
  'library.unreadable' | 'library.place' | 'library.backUp' | 'library.move' | 'library.emptyPictures'
> {
  const place = async (): Promise<LibraryPlace> => ({
    folder: library.folder,
    rides: library.rides.cards().length,
    clips: library.clips.list().length,
    pictureBytes: await bytesIn(library.picturesFolder),
  })
  return {
    'library.unreadable': () => answered(() => library.unreadable()),

    'library.place': () => answered(place),

    'library.backUp': ({ path }) =>
      answered(async () => {
        const { bytes, clipsElsewhere } = await library.backUp(path)
        return { path, bytes, clipsElsewhere }
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
