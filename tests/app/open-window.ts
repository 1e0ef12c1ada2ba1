import { mkdir, rm } from 'node:fs/promises'
import { dirname } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, onTestFinished } from 'vitest'
import type { MarksProposal } from '../../main/contract/clips.ts'
import { WINDOW_FOLDER } from '../../main/hosts/build/build-window.ts'
import { openLoopbackHost } from '../../main/hosts/loopback/loopback-host.ts'
import type { StartWorkerProcess } from '../../main/services/worker-process.ts'
import { browserOfThisRun } from './browser-of-this-run.ts'
import { libraryWithClip, newLibraryFolder, servicesOn, valueOf } from './made-libraries.ts'

/** Less than a test may take: then what it waited for in vain is named. */
const STUCK_MS = 200_000

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

/**
 * @param proposals what the program offers as marks, whatever the clip
 * @param processes how the program's other processes are started: what was measured before is not measured again
 */
export async function openWindow(
  libraryFolder: string,
  proposals: readonly MarksProposal[] = [],
  processes?: StartWorkerProcess,
): Promise<OpenWindow> {
  const services = await servicesOn(libraryFolder, proposals, processes)
  const problems: string[] = []
  const host = await openLoopbackHost({ services, windowFolder: WINDOW_FOLDER, log: (line) => problems.push(line) })
  const browser = await browserOfThisRun()
  const visitor = await browser.newContext({ viewport: { width: 1280, height: 800 }, reducedMotion: 'reduce' })
  const page = await visitor.newPage()
  page.setDefaultTimeout(STUCK_MS)
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

/** The marking screen of the first sample's film as a handler's clip, which is set up and not marked. */
export async function windowOnMarking(
  proposals: readonly MarksProposal[] = [],
  processes?: StartWorkerProcess,
): Promise<FreshWindow> {
  const opened = await freshWindow(proposals, await libraryWithClip('wren-hold.mp4'), processes)
  await opened.page.getByRole('link', { name: 'Mark' }).click()
  await opened.page.getByRole('heading', { name: 'Mark the plank' }).waitFor()
  return opened
}

/** As `openWindow`; on an empty library unless one is given. */
export async function freshWindow(
  proposals: readonly MarksProposal[] = [],
  library?: string,
  processes?: StartWorkerProcess,
): Promise<FreshWindow> {
  const { fresh, remove } = await newWindow(proposals, library, processes)
  onTestFinished(remove)
  return fresh
}

/**
 * One window for several tests of a file, opened by the first that asks for it, which is cheaper than one each. Every
 * test finds it at the start screen, and what the tests before it have kept.
 *
 * @param makeLibrary an empty one unless given
 */
export function sharedWindow(makeLibrary: () => Promise<string> = newLibraryFolder): () => Promise<FreshWindow> {
  let made: Awaited<ReturnType<typeof newWindow>> | null = null
  afterAll(() => made?.remove())
  return async () => {
    made ??= await newWindow([], await makeLibrary())
    const { page, origin } = made.fresh
    await page.goto(`${origin}/#/`)
    await page.getByRole('link', { name: 'Start', exact: true }).waitFor()
    return made.fresh
  }
}

async function newWindow(
  proposals: readonly MarksProposal[],
  library?: string,
  processes?: StartWorkerProcess,
): Promise<{ readonly fresh: FreshWindow; readonly remove: () => Promise<void> }> {
  const folder = library ?? (await newLibraryFolder())
  let opened = await openWindow(folder, proposals, processes)
  const again = async () => {
    await opened.close()
    opened = await openWindow(folder, proposals, processes)
    return opened
  }
  const remove = async () => {
    await opened.close()
    await rm(folder, { recursive: true, force: true })
  }
  return { fresh: { ...opened, folder, again }, remove }
}
