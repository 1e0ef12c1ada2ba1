import { mkdir, mkdtemp } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { type Browser, chromium, type Page } from 'playwright-core'
import { build } from 'vite'
import type { MarksProposal } from '../../main/contract/clips.ts'
import { success } from '../../main/contract/outcome.ts'
import { openLoopbackHost } from '../../main/hosts/loopback/loopback-host.ts'
import { openServices } from '../../main/services/services.ts'
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

/** @param proposals what the program offers as marks, whatever the clip */
export async function openWindow(libraryFolder: string, proposals: readonly MarksProposal[] = []): Promise<OpenWindow> {
  const windowFolder = await builtWindow()
  const opened = await openServices({
    libraryFolder: join(libraryFolder, 'library'),
    samplesFolder: SAMPLES,
    startWorkerProcess: forkWorkerProcess,
    propose: () => Promise.resolve(success(proposals)),
  })
  if (!opened.ok) throw new Error(opened.error.message)
  const services = opened.value
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
      const handed = await services.files.register(path)
      if (!handed.ok) throw new Error(handed.error.message)
      const taken = await services.handlers['clips.takeIn'](handed.value)
      if (!taken.ok) throw new Error(taken.error.message)
      return taken.value.card.id
    },
    async inNewFolder(path) {
      await mkdir(dirname(path), { recursive: true })
      return path
    },
    async close() {
      await browser.close()
      await host.close()
      await services.close()
    },
  }
}
