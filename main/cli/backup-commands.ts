import { resolve } from 'node:path'
import { restoreBackup } from '../library/backup.ts'
import { defaultLibraryFolder } from '../library/library-folder.ts'
import { LibraryProblem } from '../library/library-problem.ts'
import { openLibrary } from '../library/open-library.ts'
import { type BackupCommand, type CommandEnd, exitCodes, type RestoreCommand } from './command.ts'
import { wrongUsage } from './command-end.ts'

/** Writes a library into one file. */
export function backupCommand({ outPath, libraryFolder }: BackupCommand): Promise<CommandEnd> {
  return toldInOneLine(async () => {
    const library = await openLibrary(libraryFolder ?? defaultLibraryFolder())
    try {
      const { path, bytes, clipsElsewhere } = await library.backUp(resolve(outPath))
      const size = `${path}, ${Math.ceil(bytes / 1e6)} MB`
      const elsewhere = clipsElsewhere === 1 ? '1 clip' : `${clipsElsewhere} clips`
      return clipsElsewhere === 0
        ? [size]
        : [size, `${elsewhere} in folders of your own: not in the file; keep copies of those yourself.`]
    } finally {
      await library.close()
    }
  })
}

/** Puts a backup into an empty folder, and makes sure that it opens. */
export function restoreCommand({ backupPath, libraryFolder }: RestoreCommand): Promise<CommandEnd> {
  return toldInOneLine(async () => {
    await restoreBackup(backupPath, libraryFolder)
    const library = await openLibrary(libraryFolder)
    const rides = library.rides.cards().length
    await library.close()
    return [
      `${resolve(libraryFolder)}: ${rides === 1 ? '1 filmed ride' : `${rides} filmed rides`}. Start with TIPHOLD_LIBRARY set to this folder to use it.`,
    ]
  })
}

async function toldInOneLine(work: () => Promise<string[]>): Promise<CommandEnd> {
  try {
    return { exitCode: exitCodes.measured, lines: await work(), complaint: null }
  } catch (error) {
    if (error instanceof LibraryProblem) return wrongUsage(error.message)
    throw error
  }
}
