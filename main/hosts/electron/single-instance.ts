import type { App, BrowserWindow } from 'electron'

/** True in the first program; a second one only brings the first one's window to the front and ends. */
export function isFirstInstance(app: App, window: () => BrowserWindow | null): boolean {
  if (!app.requestSingleInstanceLock()) return false
  app.on('second-instance', () => {
    const shown = window()
    if (shown?.isMinimized() === true) shown.restore()
    shown?.focus()
  })
  return true
}
