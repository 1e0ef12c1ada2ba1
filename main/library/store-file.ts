import { readdir, rm } from 'node:fs/promises'
import { join } from 'node:path'
import Conf from 'conf'
import { flush } from '../files/whole-file.ts'

/** A small file of named values, read and written whole. */
export interface StoreFile {
  /** All of it; throws where the file is damaged. */
  read(): Readonly<Record<string, unknown>>
  /** On the disk when the promise is fulfilled. */
  write(values: Readonly<Record<string, unknown>>): Promise<void>
}

/**
 * `NAME.json` in a folder: through electron-store inside Electron and conf elsewhere, which write the same file.
 *
 * @throws where the file is damaged
 */
export async function openStoreFile(
  folder: string,
  name: string,
  isElectron: boolean = isElectronMain(),
): Promise<StoreFile> {
  await removeHalfWritten(folder, name)
  const options = {
    cwd: folder,
    accessPropertiesByDotNotation: false,
    serialize: (values: unknown) => JSON.stringify(values),
    deserialize: (text: string) => JSON.parse(text) as Record<string, unknown>,
  }
  const store = isElectron
    ? new (await import('electron-store')).default({ ...options, name })
    : new Conf({ ...options, configName: name })
  return {
    read: () => store.store,
    async write(values) {
      store.store = { ...values }
      await flush(folder, 'r')
    },
  }
}

/** electron-store needs the main process of Electron; a plain Node inside Electron is none. */
function isElectronMain(): boolean {
  return process.versions['electron'] !== undefined && (process as { readonly type?: string }).type === 'browser'
}

/** What a killed program left of the file that it was writing. */
async function removeHalfWritten(folder: string, name: string): Promise<void> {
  const left = (await readdir(folder)).filter((file) => file.startsWith(`${name}.json.tmp-`))
  for (const file of left) await rm(join(folder, file), { force: true })
}
