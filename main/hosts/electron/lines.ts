import { type App, app, type BrowserWindow, dialog, ipcMain } from 'electron'
import { join } from 'node:path'
import type { Services } from '../../services/services.ts'
import type { Log } from '../answer.ts'
import { CHANNELS } from './channels.ts'
import { windowLines } from './window-lines.ts'

/** Answers the window's calls and takes its files. */
export function setupLines(services: Services, log: Log): void {
  const lines = windowLines(services, askWhere, log)
  ipcMain.handle(CHANNELS.call, lines.call)
  ipcMain.handle(CHANNELS.bringFile, lines.bringFile)
  ipcMain.handle(CHANNELS.saveExport, lines.saveExport)
}

async function askWhere(fileName: string): Promise<string | null> {
  const { canceled, filePath } = await dialog.showSaveDialog({ defaultPath: join(app.getPath('documents'), fileName) })
  return canceled || filePath === '' ? null : filePath
}

/** Tells the window what happens for as long as it is there. */
export function setupHappenings(app: App, window: BrowserWindow, services: Services): void {
  const stop = services.onHappening((happening) => {
    if (!window.isDestroyed()) window.webContents.send(CHANNELS.happening, happening)
  })
  app.on('will-quit', stop)
}
