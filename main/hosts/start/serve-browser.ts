import { join } from 'node:path'
import { setTimeout } from 'node:timers/promises'
import { openServices } from '../../services/services.ts'
import { forkWorkerProcess } from '../../services/worker-process.ts'
import { ROOT } from '../build/source-stamp.ts'
import { WINDOW_FOLDER } from '../build/build-window.ts'
import { logToTerminal } from '../log.ts'
import { type LoopbackHost, openLoopbackHost } from '../loopback/loopback-host.ts'
import { findBrowser } from './find-browser.ts'
import { untilInterrupted } from './interrupted.ts'
import { type AppWindow, hasScreen, openAppWindow, openDefaultBrowser } from './open-browser.ts'

/** A window that is gone before this was refused by the browser rather than closed by a person, s. */
const LEAST_SHOWN_S = 3
/** What a window sent at its last moment is read within this time after it is gone. */
const LAST_CALLS_MS = 200

/** Serves the window on this machine until Ctrl-C, or until its own window is closed. Gives the exit code. */
export async function serveBrowser(open: boolean): Promise<number> {
  const interrupted = untilInterrupted()
  const opened = await openServices({
    samplesFolder: join(ROOT, 'sample-clips', 'clips'),
    reviewPageFolder: WINDOW_FOLDER,
    startWorkerProcess: forkWorkerProcess,
    onNote: (sentence) => console.error(sentence),
  })
  if (!opened.ok) {
    console.error(opened.error.message)
    return 1
  }
  const services = opened.value
  const host = await openLoopbackHost({ services, windowFolder: WINDOW_FOLDER, log: logToTerminal })
  void services.prepareFirstSample()
  const window = open ? await showWindow(host) : null
  if (!open) tellAddress(host)
  await Promise.race([interrupted, window === null ? interrupted : windowClosed(host, window)])
  await window?.close()
  await host.close()
  await services.close()
  return 0
}

/** In a window of its own if a browser can, else wherever this user browses. */
async function showWindow(host: LoopbackHost): Promise<AppWindow | null> {
  const browser = findBrowser()
  if (!hasScreen(process.platform, process.env)) {
    console.log('This machine has no screen, so nothing is opened.')
    tellAddress(host)
    return null
  }
  if (browser !== null) {
    console.log(
      `Tiphold is served at ${host.origin} and opens in a window of its own. Close it or press Ctrl-C to end.`,
    )
    return openAppWindow(browser, host.newAddress())
  }
  await showInDefaultBrowser(host)
  return null
}

async function showInDefaultBrowser(host: LoopbackHost): Promise<void> {
  if (await openDefaultBrowser(host.newAddress())) {
    console.log(`Tiphold is served at ${host.origin} and opens in your browser. Press Ctrl-C here to end it.`)
  } else tellAddress(host)
}

function tellAddress(host: LoopbackHost): void {
  console.log(`Open this address in a browser on this machine; it works once:\n\n  ${host.newAddress()}\n`)
  console.log('Press Ctrl-C to end Tiphold.')
}

/** Settles when a person closed the window; a browser that refused to show it is replaced and never settles. */
async function windowClosed(host: LoopbackHost, window: AppWindow): Promise<void> {
  const { shownS } = await window.closed
  if (shownS >= LEAST_SHOWN_S) return setTimeout(LAST_CALLS_MS)
  console.log('The browser did not keep its window open.')
  await showInDefaultBrowser(host)
  await new Promise(() => undefined)
}
