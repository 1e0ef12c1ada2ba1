import { existsSync } from 'node:fs'
import { join } from 'node:path'
import type { App } from 'electron'

/** Where the shell finds what is not code. A packaged program carries it as resources, a checkout as folders. */
export interface Parts {
  readonly windowFolder: string
  readonly samplesFolder: string
}

/** Finds the parts; a packaged ffmpeg is used as if it had been named by hand. */
export function setupParts(app: App): Parts {
  const windowFolder = join(app.getAppPath(), 'out', 'window')
  if (!app.isPackaged) return { windowFolder, samplesFolder: join(app.getAppPath(), 'sample-clips', 'clips') }
  const ffmpeg = join(process.resourcesPath, 'ffmpeg', process.platform === 'win32' ? 'ffmpeg.exe' : 'ffmpeg')
  if (existsSync(ffmpeg)) process.env['TIPHOLD_FFMPEG'] ??= ffmpeg
  return { windowFolder, samplesFolder: join(process.resourcesPath, 'sample-clips') }
}
