import { type Browser, chromium } from 'playwright-core'
import { inject } from 'vitest'

let connected: Promise<Browser> | null = null

/** The one browser of this run; throws where the machine has none, which `needs` should have said before. */
export function browserOfThisRun(): Promise<Browser> {
  const address = inject('browserAddress')
  if (address === null) throw new Error('No Chromium lies on the PATH; `needs` should have skipped this test.')
  connected ??= chromium.connect(address)
  return connected
}
