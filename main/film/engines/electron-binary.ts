import { existsSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'

/** Electron's package is installed by npm; its binary, the window, is a download of its own that may not have come. */
export type ElectronState =
  | { readonly kind: 'ready'; readonly version: string; readonly path: string }
  | { readonly kind: 'no-binary'; readonly version: string }
  | { readonly kind: 'not-installed' }

const require = createRequire(import.meta.url)

/** Looks for Electron without starting or downloading anything. */
export function electronState(): ElectronState {
  const packagePath = resolved('electron/package.json')
  if (packagePath === null) return { kind: 'not-installed' }
  const { version } = JSON.parse(readFileSync(packagePath, 'utf8')) as { version: string }
  // Electron's installer writes the binary's name into this file as its last step.
  const nameFile = join(dirname(packagePath), 'path.txt')
  if (!existsSync(nameFile)) return { kind: 'no-binary', version }
  const path = join(dirname(packagePath), 'dist', readFileSync(nameFile, 'utf8').trim())
  return existsSync(path) ? { kind: 'ready', version, path } : { kind: 'no-binary', version }
}

function resolved(name: string): string | null {
  try {
    return require.resolve(name)
  } catch {
    return null
  }
}
