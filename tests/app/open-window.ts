import { rmSync } from 'node:fs'
import { cp, mkdir, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import type { Page } from 'playwright-core'
import { onTestFinished } from 'vitest'
import type { MarksProposal } from '../../main/contract/clips.ts'
import { type Outcome, success } from '../../main/contract/outcome.ts'
import { WINDOW_FOLDER } from '../../main/hosts/build/build-window.ts'
import { openLoopbackHost } from '../../main/hosts/loopback/loopback-host.ts'
import { openServices } from '../../main/services/services.ts'
import { forkWorkerProcess } from '../../main/services/worker-process.ts'
import { browserOfThisRun } from './browser-of-this-run.ts'

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

const SAMPLES = join(import.meta.dirname, '../../sample-clips/clips')

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
      reviewPageFolder: WINDOW_FOLDER,
      startWorkerProcess: forkWorkerProcess,
      libraryFolder: join(libraryFolder, 'library'),
      propose: () => Promise.resolve(success(proposals)),
    }),
  )
  const problems: string[] = []
  const host = await openLoopbackHost({ services, windowFolder: WINDOW_FOLDER, log: (line) => problems.push(line) })
  const browser = await browserOfThisRun()
  const visitor = await browser.newContext({ viewport: { width: 1280, height: 800 }, reducedMotion: 'reduce' })
  const page = await visitor.newPage()
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
      // As a handler closes it: what was entered last is still sent.
      await page.close()
      await host.close()
      await visitor.close()
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

let measured: Promise<string> | null = null

/** A new library that holds the ride of the first sample, measured once for all tests of this process. */
export async function libraryWithRide(): Promise<string> {
  measured ??= measureSample()
  const copy = await newLibraryFolder()
  await cp(await measured, copy, { recursive: true })
  return copy
}

async function measureSample(): Promise<string> {
  const folder = await newLibraryFolder()
  process.once('exit', () => {
    rmSync(folder, { recursive: true, force: true })
  })
  const { page, close } = await openWindow(folder)
  await page.getByRole('button', { name: 'Open Wren holds to the ground' }).click()
  await page.waitForURL(/#\/rides\//)
  await page.getByRole('img', { name: /^Frame \d+ of the clip$/ }).waitFor()
  await close()
  return folder
}

/** A window on a library with the ride of the first sample. */
export async function windowWithRide(): Promise<FreshWindow> {
  return freshWindow([], await libraryWithRide())
}

/** @param proposals what the program offers as marks, whatever the clip */
export async function freshWindow(proposals: readonly MarksProposal[] = [], library?: string): Promise<FreshWindow> {
  const folder = library ?? (await newLibraryFolder())
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

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}
