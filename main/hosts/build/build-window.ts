import { join } from 'node:path'
import { ROOT, sourceStamp, unlessUpToDate } from './source-stamp.ts'

/** Where the built window lies. */
export const WINDOW_FOLDER = join(ROOT, 'out', 'window')

/** The window first: it empties the folder. Then the page that lies in review packs. */
const CONFIGS = ['vite.config.ts', 'main/hosts/build/review-page.config.ts'] as const

const SOURCES = ['renderer', 'analysis', 'main/contract', 'main/hosts/electron/icons', ...CONFIGS, 'package-lock.json']

/** Builds what people see into out/window/, unless it is there and its sources are the same; takes some ten seconds. */
export async function buildWindow(onWork: () => void = () => undefined): Promise<void> {
  await unlessUpToDate(join(ROOT, 'out', 'window.stamp'), await sourceStamp(SOURCES), async () => {
    onWork()
    const { build } = await import('vite')
    for (const config of CONFIGS) await build({ configFile: join(ROOT, config), logLevel: 'error' })
  })
}
