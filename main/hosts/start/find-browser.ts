import { accessSync, constants } from 'node:fs'
import { delimiter, join } from 'node:path'

type Environment = Readonly<Record<string, string | undefined>>

/** Browsers that can show a page as a program's window, in the order in which they are tried. */
export function browserPlaces(platform: NodeJS.Platform, environment: Environment): readonly string[] {
  switch (platform) {
    case 'darwin':
      return ['Google Chrome', 'Chromium', 'Microsoft Edge'].map(
        (name) => `/Applications/${name}.app/Contents/MacOS/${name}`,
      )
    case 'win32': {
      const roots = ['ProgramFiles', 'ProgramFiles(x86)', 'LOCALAPPDATA'].flatMap((name) => environment[name] ?? [])
      const programs = ['Google/Chrome/Application/chrome.exe', 'Microsoft/Edge/Application/msedge.exe']
      return programs.flatMap((program) => roots.map((root) => join(root, program)))
    }
    default: {
      const folders = (environment['PATH'] ?? '').split(delimiter).filter((folder) => folder !== '')
      const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'microsoft-edge']
      return names.flatMap((name) => folders.map((folder) => join(folder, name)))
    }
  }
}

/** The first of these browsers that is there; null if none is. */
export function findBrowser(): string | null {
  return browserPlaces(process.platform, process.env).find(isProgram) ?? null
}

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK)
    return true
  } catch {
    return false
  }
}
