import { rename } from 'node:fs/promises'
import { join } from 'node:path'
import { FIRST_SETTINGS, type Settings, settings as settingsShape } from '../contract/settings.ts'
import { LIBRARY_FILE } from './library-folder.ts'
import { openStoreFile, type StoreFile } from './store-file.ts'

/** The file that holds the library's format and the settings; a damaged one is put aside. */
export async function openSettings(
  folder: string,
  format: number,
  onNote: (sentence: string) => void,
): Promise<StoreFile> {
  let store: StoreFile
  try {
    store = await openStoreFile(folder, 'library')
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error
    const aside = `library.damaged-${Date.now()}.json`
    await rename(join(folder, LIBRARY_FILE), join(folder, aside))
    onNote(`The settings could not be read and were reset; the damaged file is kept as ${aside}.`)
    store = await openStoreFile(folder, 'library')
  }
  if (store.read()['format'] !== format) await store.write({ format, settings: FIRST_SETTINGS })
  return store
}

/** The kept settings; whatever a newer or damaged file leaves open is as at first. */
export function settingsIn(store: StoreFile): Settings {
  const kept = settingsShape.safeParse({ ...FIRST_SETTINGS, ...(store.read()['settings'] as Partial<Settings>) })
  return kept.success ? kept.data : FIRST_SETTINGS
}
