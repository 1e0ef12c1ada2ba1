import { type App, type BrowserWindow, ipcMain } from 'electron'
import type { Services } from '../../services/services.ts'
import type { Log } from '../answer.ts'
import { CHANNELS } from './channels.ts'
import { windowLines } from './window-lines.ts'

/** Answers the window's calls and takes its files. */
export function setupLines(services: Services, log: Log): void {
  const lines = windowLines(services, log)
  ipcMain.handle(CHANNELS.call, lines.call)
  ipcMain.handle(CHANNELS.bringFile, lines.bringFile)
}

/** Tells the window what happens for as long as it is there. */
export function setupHappenings(app: App, window: BrowserWindow, services: Services): void {
  const stop = services.onHappening((happening) => {
    if (!window.isDestroyed()) window.webContents.send(CHANNELS.happening, happening)
  })
  app.on('will-quit', stop)
}
