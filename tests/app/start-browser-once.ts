import { chromium } from 'playwright-core'
import type { TestProject } from 'vitest/node'
import { browserOnPath } from '../report/browser-on-path.ts'

declare module 'vitest' {
  export interface ProvidedContext {
    /** Where the browser of this run is reached; null where the machine has none. */
    browserAddress: string | null
  }
}

/** An invented microphone that beeps; the smallest of the browsers knows none without being told to allow it. */
const MICROPHONE = ['--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream']

/** Before all tests that start programs: one browser for the whole run; every window gets a profile of its own in it. */
export default async function setup(project: TestProject): Promise<(() => Promise<void>) | undefined> {
  const executablePath = browserOnPath()
  if (executablePath === null) {
    project.provide('browserAddress', null)
    return undefined
  }
  const server = await chromium.launchServer({ executablePath, args: ['--no-sandbox', ...MICROPHONE] })
  project.provide('browserAddress', server.wsEndpoint())
  return () => server.close()
}
