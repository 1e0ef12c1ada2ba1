import type { App } from 'electron'
import { WINDOW_ORIGIN } from './channels.ts'

/** Keeps every page where it is: no other page, no second window, no page within a page. */
export function setupNavigation(app: App): void {
  app.on('web-contents-created', (_created, contents) => {
    contents.on('will-navigate', (event) => {
      if (!event.url.startsWith(`${WINDOW_ORIGIN}/`)) event.preventDefault()
    })
    contents.on('will-frame-navigate', (event) => {
      if (!event.isMainFrame) event.preventDefault()
    })
    contents.on('will-redirect', (event) => event.preventDefault())
    contents.on('will-attach-webview', (event) => event.preventDefault())
    contents.setWindowOpenHandler(() => ({ action: 'deny' }))
  })
}
