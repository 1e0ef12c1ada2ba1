import { existsSync } from 'node:fs'
import { mkdir, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { chromium, type Page } from 'playwright-core'
import { onTestFinished, vi } from 'vitest'
import type { MarksProposal } from '../../main/contract/clips.ts'
import { type Outcome, success } from '../../main/contract/outcome.ts'
import { WINDOW_FOLDER } from '../../main/hosts/build/build-window.ts'
import { openLoopbackHost } from '../../main/hosts/loopback/loopback-host.ts'
import { openServices } from '../../main/services/services.ts'
import { forkWorkerProcess } from '../../main/services/worker-process.ts'

/** The real window in a real browser, on a library of its own. */
export interface OpenWindow {
  readonly page: Page
  readonly origin: string
  /** What the browser and the host complained of: errors of scripts and of the security policy, faults of ours. */
  problems(): readonly string[]
  /** Takes a clip in where it lies, as the desktop shell does; gives its id. */
  takeInPath(path: string): Promise<string>
  /** Makes the folder of a path and gives the path. */
  inNewFolder(path: string): Promise<string>
  close(): Promise<void>
}

// A busy machine may take its time: only what hangs is ended.
vi.setConfig({ testTimeout: 300_000, hookTimeout: 300_000 })

const SAMPLES = join(import.meta.dirname, '../../sample-clips/clips')
const BROWSERS = ['chromium', 'chromium-browser', 'google-chrome'] as const

export function sampleClip(name: string): string {
  return join(SAMPLES, name)
}

export function newLibraryFolder(): Promise<string> {
  return mkdtemp(join(tmpdir(), 'tiphold-window-'))
}

/** @param proposals what the program offers as marks, whatever the clip */
export async function openWindow(libraryFolder: string, proposals: readonly MarksProposal[] = []): Promise<OpenWindow> {
  const services = valueOf(
    await openServices({
      samplesFolder: SAMPLES,
      startWorkerProcess: forkWorkerProcess,
      libraryFolder: join(libraryFolder, 'library'),
      propose: () => Promise.resolve(success(proposals)),
    }),
  )
  const problems: string[] = []
  const host = await openLoopbackHost({ services, windowFolder: WINDOW_FOLDER, log: (line) => problems.push(line) })
  const browser = await chromium.launch({ executablePath: browserOnPath(), args: ['--no-sandbox'] })
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage()
  page.setDefaultTimeout(0)
  page.setDefaultNavigationTimeout(0)
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
      const { fileId } = valueOf(await services.files.register(path))
      return valueOf(await services.handlers['clips.takeIn']({ fileId })).card.id
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

/** A window on a new library, for one test: both are gone after it. */
export interface FreshWindow extends OpenWindow {
  /** Holds the library, and has room for files of the test. */
  readonly folder: string
  /** Ends the program and starts it anew on the same library. */
  again(): Promise<OpenWindow>
}

/** @param proposals what the program offers as marks, whatever the clip */
export async function freshWindow(proposals: readonly MarksProposal[] = []): Promise<FreshWindow> {
  const folder = await newLibraryFolder()
  let opened = await openWindow(folder, proposals)
  onTestFinished(async () => {
    await opened.close()
    await rm(folder, { recursive: true, force: true })
  })
  return {
    ...opened,
    folder,
    async again() {
      await opened.close()
      opened = await openWindow(folder, proposals)
      return opened
    },
  }
}

export function browserOnPath(): string {
  const folders = (process.env['PATH'] ?? '').split(':')
  const path = folders.flatMap((folder) => BROWSERS.map((name) => join(folder, name))).find((one) => existsSync(one))
  if (path === undefined) throw new Error('No Chromium lies on the PATH; `needs` should have skipped this test.')
  return path
}

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}
