import { type App, type BrowserWindow, dialog } from 'electron'
import type { Services } from '../../services/services.ts'

/** Closing while a clip is measured asks first; what is kept is put away before the program ends. */
export function setupClosing(app: App, window: BrowserWindow, services: Pick<Services, 'isMeasuring' | 'close'>): void {
  let isAgreed = false
  window.on('close', (event) => {
    if (isAgreed || !services.isMeasuring()) return
    event.preventDefault()
    void agreesToStop(window).then((agrees) => {
      isAgreed = agrees
      if (agrees) window.close()
    })
  })
  app.on('window-all-closed', () => app.quit())

  let isPutAway = false
  app.on('will-quit', (event) => {
    if (isPutAway) return
    event.preventDefault()
    void services.close().finally(() => {
      isPutAway = true
      app.quit()
    })
  })
}

async function agreesToStop(window: BrowserWindow): Promise<boolean> {
  const { response } = await dialog.showMessageBox(window, {
    type: 'question',
    message: 'A clip is still being measured.',
    detail: 'If you close now, this measurement is lost. Everything else is saved.',
    buttons: ['Keep measuring', 'Stop and close'],
    defaultId: 0,
    cancelId: 0,
  })
  return response === 1
}
