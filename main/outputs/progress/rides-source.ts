import type { BoardFeel } from '../../../analysis/board-physics/feel.ts'
import type { Parsed } from '../../files/parsed.ts'
import { defaultLibraryFolder } from '../../library/library-folder.ts'
import type { Library } from '../../library/library.ts'
import { LibraryProblem } from '../../library/library-problem.ts'
import { openLibrary } from '../../library/open-library.ts'
import { libraryRides } from './library-rides.ts'
import { parseRides, readRidesFile, type Rides } from './rides-file.ts'

/** Where a command takes rides from: a file of rides, or a library, which is the user's own where neither is given. */
export interface RidesSource {
  readonly ridesPath?: string
  readonly libraryFolder?: string
}

/**
 * Reads the rides; the message of what cannot be read is a single line.
 *
 * @param feelsOf how a library's boards feel, by id; a file of rides says so itself
 */
export async function readRides(
  { ridesPath, libraryFolder }: RidesSource,
  feelsOf: (library: Library) => Promise<ReadonlyMap<string, BoardFeel>>,
): Promise<Parsed<Rides>> {
  if (ridesPath !== undefined) return readRidesFile(ridesPath)
  const folder = libraryFolder ?? defaultLibraryFolder()
  try {
    const library = await openLibrary(folder)
    try {
      const feels = await feelsOf(library)
      const rides = libraryRides(library, (boardId) => feels.get(boardId)?.feelS ?? null)
      return parseRides(await rides({}), folder)
    } finally {
      await library.close()
    }
  } catch (error) {
    if (error instanceof LibraryProblem) return { ok: false, message: error.message }
    throw error
  }
}
