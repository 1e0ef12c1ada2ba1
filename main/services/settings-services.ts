import { stat } from 'node:fs/promises'
import { isAbsolute, relative } from 'node:path'
import type { Handlers } from '../contract/calls.ts'
import { problem } from '../contract/outcome.ts'
import type { Library } from '../library/library.ts'
import { answered } from '../library/library-problem.ts'

export function settingsServices(library: Library): Pick<Handlers, 'settings.get' | 'settings.keep'> {
  const { settings } = library
  return {
    'settings.get': () => answered(() => settings.get()),

    'settings.keep': async (changed) => {
      const { watchedFolder = null } = changed
      if (watchedFolder !== null && watchedFolder !== settings.get().watchedFolder) {
        const fault = await watchFault(watchedFolder, library.folder)
        if (fault !== null) return problem('bad-input', fault)
      }
      return answered(async () => {
        await settings.keep(changed)
        return settings.get()
      })
    },
  }
}

/** Why a folder cannot be watched for new clips; null when it can. */
async function watchFault(folder: string, libraryFolder: string): Promise<string | null> {
  if (!isAbsolute(folder)) return 'Give the full path of the folder, from the root or the drive on.'
  const found = await stat(folder).catch(() => null)
  if (found?.isDirectory() !== true) return `There is no folder ${folder}: check its path.`
  const inside = relative(libraryFolder, folder)
  return inside === '' || !(inside.startsWith('..') || isAbsolute(inside))
    ? 'This is a folder of the library itself. Choose the one in which your phone puts new clips.'
    : null
}
