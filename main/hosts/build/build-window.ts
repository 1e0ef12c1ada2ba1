import { join } from 'node:path'
import { ROOT, sourceStamp, unlessUpToDate } from './source-stamp.ts'

/** Where the built window lies. */
export const WINDOW_FOLDER = join(ROOT, 'out', 'window')

const SOURCES = [
  'renderer',
  'analysis',
  'main/contract',
  'main/hosts/electron/icons',
  'vite.config.ts',
  'package-lock.json',
]

/** Builds what people see into out/window/, unless it is there and its sources are the same; takes some ten seconds. */
export async function buildWindow(onWork: () => void = () => undefined): Promise<void> {
  await unlessUpToDate(join(ROOT, 'out', 'window.stamp'), await sourceStamp(SOURCES), async () => {
    onWork()
    const { build } = await import('vite')
    await build({ configFile: join(ROOT, 'vite.config.ts'), logLevel: 'error' })
  })
}
