import type { Parsed } from '../../files/parsed.ts'
import { defaultLibraryFolder } from '../../library/library-folder.ts'
import { LibraryProblem } from '../../library/library-problem.ts'
import { openLibrary } from '../../library/open-library.ts'
import { libraryRides } from './library-rides.ts'
import { parseRides, readRidesFile, type Rides } from './rides-file.ts'

/** Where a command takes rides from: a file of rides, or a library, which is the user's own where neither is given. */
export interface RidesSource {
  readonly ridesPath?: string
  readonly libraryFolder?: string
}

/** Reads the rides; the message of what cannot be read is a single line. */
export async function readRides({ ridesPath, libraryFolder }: RidesSource): Promise<Parsed<Rides>> {
  if (ridesPath !== undefined) return readRidesFile(ridesPath)
  const folder = libraryFolder ?? defaultLibraryFolder()
  try {
    const library = await openLibrary(folder)
    try {
      return parseRides(await libraryRides(library)({}), folder)
    } finally {
      await library.close()
    }
  } catch (error) {
    if (error instanceof LibraryProblem) return { ok: false, message: error.message }
    throw error
  }
}
