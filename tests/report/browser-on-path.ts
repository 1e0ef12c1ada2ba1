import { existsSync } from 'node:fs'
import { join } from 'node:path'

/** The browsers that can show the window in tests, the lightest first. */
const BROWSERS = ['chromium-headless-shell', 'chromium', 'chromium-browser', 'google-chrome'] as const

/** The path of a browser of this machine, or null where none lies on the PATH. */
export function browserOnPath(): string | null {
  const folders = (process.env['PATH'] ?? '').split(':')
  const paths = BROWSERS.flatMap((name) => folders.map((folder) => join(folder, name)))
  return paths.find((path) => existsSync(path)) ?? null
}
