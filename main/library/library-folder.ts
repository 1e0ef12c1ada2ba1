import { readFile, rm, stat } from 'node:fs/promises'
import { homedir } from 'node:os'
import { isAbsolute, join, resolve } from 'node:path'
import { writeWholeText } from '../files/whole-file.ts'
import { isMissing } from './kept-files.ts'
import { LibraryProblem } from './library-problem.ts'

/** Left in a library's first folder once it was moved. */
export const MOVED_TO = 'moved-to.json'
/** Every library has this file. */
export const LIBRARY_FILE = 'library.json'

/** Where this user's library lies unless it was moved; see `folderOfLibrary`. */
export function defaultLibraryFolder(): string {
  return libraryFolderFor(process.platform, process.env, homedir())
}

/**
 * What TIPHOLD_LIBRARY names; else the platform's place for a user's own data. It is a folder of its own there, because
 * Electron keeps its things beside it.
 */
export function libraryFolderFor(
  platform: NodeJS.Platform,
  environment: Readonly<Record<string, string | undefined>>,
  home: string,
): string {
  const given = environment['TIPHOLD_LIBRARY']
  if (given !== undefined && given !== '') return resolve(given)
  return join(dataFolder(platform, environment, home), 'Tiphold', 'Library')
}

function dataFolder(
  platform: NodeJS.Platform,
  environment: Readonly<Record<string, string | undefined>>,
  home: string,
): string {
  if (platform === 'darwin') return join(home, 'Library', 'Application Support')
  const [name, otherwise] =
    platform === 'win32'
      ? ['APPDATA', join(home, 'AppData', 'Roaming')]
      : ['XDG_DATA_HOME', join(home, '.local', 'share')]
  const given = environment[name]
  // The base directory specification says that a relative path is to be ignored.
  return given !== undefined && isAbsolute(given) ? given : otherwise
}

/** The folder where the library of `home` lies now: `home` itself, or where it was moved to. */
export async function folderOfLibrary(home: string): Promise<string> {
  const path = join(home, MOVED_TO)
  let text: string
  try {
    text = await readFile(path, 'utf8')
  } catch (error) {
    if (isMissing(error)) return home
    throw error
  }
  const folder = folderIn(text)
  if (folder === null) {
    throw new LibraryProblem('failed', `${path} does not say where the library was moved to: correct or delete it.`)
  }
  if ((await stat(join(folder, LIBRARY_FILE)).catch(() => null)) === null) {
    const advice = `connect the drive that holds it, or delete ${path} to begin an empty one`
    throw new LibraryProblem('file-missing', `The library was moved to ${folder} and is not there: ${advice}.`)
  }
  return folder
}

/** Remembers, from now on, that the library of `home` lies in `folder`. */
export async function rememberFolder(home: string, folder: string): Promise<void> {
  const path = join(home, MOVED_TO)
  if (folder === home) return rm(path, { force: true })
  await writeWholeText(path, `${JSON.stringify({ folder }, null, 2)}\n`)
}

function folderIn(text: string): string | null {
  try {
    const { folder } = JSON.parse(text) as { readonly folder?: unknown }
    return typeof folder === 'string' && isAbsolute(folder) ? folder : null
  } catch {
    return null
  }
}
