import { fileURLToPath } from 'node:url'
import { BrowserWindow, nativeTheme } from 'electron'
import { LEAST_WINDOW } from '../../contract/window-size.ts'
import { WINDOW_ORIGIN } from './channels.ts'

/** Opens the window; it is shown once there is something to see. */
export async function openMainWindow(): Promise<BrowserWindow> {
  const window = new BrowserWindow({
    minWidth: LEAST_WINDOW.widthPx,
    minHeight: LEAST_WINDOW.heightPx,
    width: 1360,
    height: 860,
    show: false,
    title: 'Tiphold',
    icon: fileURLToPath(new URL('./icons/tiphold-256.png', import.meta.url)),
    backgroundColor: nativeTheme.shouldUseDarkColors ? '#141a18' : '#faf8f2',
    autoHideMenuBar: true,
    webPreferences: {
      preload: fileURLToPath(new URL('./preload.cjs', import.meta.url)),
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      webviewTag: false,
      navigateOnDragDrop: false,
      spellcheck: false,
    },
  })
  window.once('ready-to-show', () => window.show())
  await window.loadURL(`${WINDOW_ORIGIN}/`)
  return window
}
