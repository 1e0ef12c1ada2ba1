import type { Session } from 'electron'
import { WINDOW_ORIGIN } from './channels.ts'

/** Denies the window everything that a page can ask for, and every way out of this machine. */
export function setupPermissions(session: Session): void {
  session.setPermissionRequestHandler((_contents, _permission, decide) => decide(false))
  session.setPermissionCheckHandler(() => false)
  session.setDevicePermissionHandler(() => false)
  const elsewhere = ['http://*/*', 'https://*/*', 'ws://*/*', 'wss://*/*', 'ftp://*/*', 'file://*']
  session.webRequest.onBeforeRequest({ urls: elsewhere }, (_request, decide) => decide({ cancel: true }))
  session.on('will-download', (event, item) => {
    if (!mayBeSaved(item.getURL())) event.preventDefault()
  })
}

/** What the window has made itself, a report for instance, is saved where the handler says; nothing else comes down. */
export function mayBeSaved(address: string): boolean {
  return address.startsWith(`blob:${WINDOW_ORIGIN}/`)
}
