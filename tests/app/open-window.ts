import { mkdir, mkdtemp } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { type Browser, chromium, type Page } from 'playwright-core'
import { build } from 'vite'
import type { Handlers, Happening } from '../../main/contract/calls.ts'
import { success } from '../../main/contract/outcome.ts'
import { openLoopbackHost } from '../../main/hosts/loopback/loopback-host.ts'
import { openLibrary } from '../../main/library/open-library.ts'
import { ClipPictures } from '../../main/pictures/clip-pictures.ts'
import { boardsServices } from '../../main/services/boards-services.ts'
import { openClipFiles } from '../../main/services/clips-files.ts'
import { clipsService } from '../../main/services/clips-service.ts'
import { dogsServices } from '../../main/services/dogs-services.ts'
import { enginesHandlers } from '../../main/services/engines-report.ts'
import { openHandedFiles } from '../../main/services/handed-files.ts'
import { libraryServices } from '../../main/services/library-services.ts'
import { measuringService } from '../../main/services/measuring-service.ts'
import { ridesServices } from '../../main/services/rides-services.ts'
import { samplesService } from '../../main/services/samples-service.ts'
import { settingsServices } from '../../main/services/settings-services.ts'
import { forkWorkerProcess } from '../../main/services/worker-process.ts'

/** The real window in a real browser, on a library of its own. */
export interface OpenWindow {
  readonly page: Page
  readonly origin: string
  /** What the browser complained of: errors of scripts and of the security policy. */
  problems(): readonly string[]
  /** Takes a clip in where it lies, as the desktop shell does; gives its id. */
  takeInPath(path: string): Promise<string>
  /** Makes the folder of a path and gives the path. */
  inNewFolder(path: string): Promise<string>
  close(): Promise<void>
}

const SAMPLES = join(import.meta.dirname, '../../sample-clips/clips')

export function sampleClip(name: string): string {
  return join(SAMPLES, name)
}

export function newLibraryFolder(): Promise<string> {
  return mkdtemp(join(tmpdir(), 'tiphold-window-'))
}

let built: Promise<string> | null = null

/** The window, built once for all tests of a file. */
function builtWindow(): Promise<string> {
  built ??= (async () => {
    const folder = join(await mkdtemp(join(tmpdir(), 'tiphold-built-')), 'window')
    await build({
      configFile: join(import.meta.dirname, '../../vite.config.ts'),
      logLevel: 'error',
      build: { outDir: folder },
    })
    return folder
  })()
  return built
}

export async function openWindow(libraryFolder: string): Promise<OpenWindow> {
  const windowFolder = await builtWindow()
  const library = await openLibrary(join(libraryFolder, 'library'))
  const listeners = new Set<(happening: Happening) => void>()
  const tell = (happening: Happening): void => listeners.forEach((listener) => listener(happening))
  library.onChanged((what) => tell({ kind: 'changed', what }))
  const handed = openHandedFiles(() => join(libraryFolder, 'uploads'))
  const files = openClipFiles(library, SAMPLES)
  const pictures = new ClipPictures(
    library.picturesFolder,
    { open: files.open, stretchOf: (clipId) => library.clips.get(clipId)?.setup.stretch ?? null },
    (clipId, framesDone, framesTotal) => tell({ kind: 'pictures', clipId, framesDone, framesTotal }),
  )
  const measuring = measuringService({ library, files, tell, startWorkerProcess: forkWorkerProcess })
  const clips = clipsService({
    library,
    handed,
    files,
    pictures,
    isBeingMeasured: measuring.isBeingMeasured,
    stopMeasuring: measuring.stopFor,
    propose: () => Promise.resolve(success([])),
  })
  const handlers: Handlers = {
    ...dogsServices(library),
    ...boardsServices(library),
    ...settingsServices(library),
    ...ridesServices(library),
    ...libraryServices(library),
    ...enginesHandlers(),
    ...measuring.handlers,
    ...clips.handlers,
    ...samplesService(library, clips, SAMPLES).handlers,
  }
  const services = {
    handlers,
    pictures,
    files: handed,
    onHappening(listener: (happening: Happening) => void) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  }
  const problems: string[] = []
  const host = await openLoopbackHost({ services, windowFolder, log: (line) => problems.push(line) })
  const browser: Browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] })
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } })
  const page = await context.newPage()
  page.on('pageerror', ({ message }) => problems.push(message))
  page.on('console', (message) => {
    if (message.type() === 'error') problems.push(message.text())
  })
  await page.goto(host.newAddress())
  return {
    page,
    origin: host.origin,
    problems: () => problems,
    async takeInPath(path) {
      const taken = await clips.takeInPath(path)
      if (!taken.ok) throw new Error(taken.error.message)
      return taken.value.id
    },
    async inNewFolder(path) {
      await mkdir(dirname(path), { recursive: true })
      return path
    },
    async close() {
      await browser.close()
      await host.close()
      await measuring.close()
      await pictures.close()
      await library.close()
    },
  }
}
