import { join } from 'node:path'
import { app, type BrowserWindow, dialog, session } from 'electron'
import { openServices } from '../../services/services.ts'
import { logToFile } from '../log.ts'
import { setupClosing } from './closing.ts'
import { setupHappenings, setupLines } from './lines.ts'
import { openMainWindow } from './main-window.ts'
import { setupMenu } from './menu.ts'
import { setupNavigation } from './navigation.ts'
import { openNotes } from './notes.ts'
import { setupParts } from './parts.ts'
import { setupPermissions } from './permissions.ts'
import { registerProtocol, setupProtocol } from './protocol.ts'
import { isFirstInstance } from './single-instance.ts'
import { startUtilityWorker } from './utility-worker.ts'
import { windowFiles } from './window-files.ts'

/** The desktop program: Tiphold in a window of its own. */
let window: BrowserWindow | null = null

app.enableSandbox()
registerProtocol()
if (isFirstInstance(app, () => window)) {
  setupNavigation(app)
  void app.whenReady().then(open)
} else if (process.send === undefined) {
  app.quit()
} else {
  // Whoever started this one need not look for another way: the first program's window has come to the front.
  process.send('already open', undefined, undefined, () => app.quit())
}

async function open(): Promise<void> {
  const log = logToFile(join(app.getPath('logs'), 'tiphold.log'))
  const notes = openNotes(log)
  try {
    const { windowFolder, samplesFolder } = setupParts(app)
    const opened = await openServices({
      samplesFolder,
      reviewPageFolder: windowFolder,
      startWorkerProcess: startUtilityWorker,
      onNote: notes.tell,
    })
    if (!opened.ok) return giveUp(opened.error.message)
    const services = opened.value
    setupPermissions(session.defaultSession)
    setupProtocol(session.defaultSession, { files: await windowFiles(windowFolder), pictures: services.pictures, log })
    setupLines(services, log)
    setupMenu()
    window = await openMainWindow()
    setupHappenings(app, window, services)
    setupClosing(app, window, services)
    notes.showIn(window)
    void services.prepareFirstSample()
    // Whoever started this program waits to hear that it came up.
    process.send?.('ready')
  } catch (error) {
    log('could not start', error)
    giveUp('Tiphold could not start. The log tells why: ' + app.getPath('logs'))
  }
}

function giveUp(sentence: string): void {
  dialog.showErrorBox('Tiphold', sentence)
  app.exit(1)
}
