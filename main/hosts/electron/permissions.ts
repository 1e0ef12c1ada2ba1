import type { Session } from 'electron'

/** Denies the window everything that a page can ask for, and every way out of this machine. */
export function setupPermissions(session: Session): void {
  session.setPermissionRequestHandler((_contents, _permission, decide) => decide(false))
  session.setPermissionCheckHandler(() => false)
  session.setDevicePermissionHandler(() => false)
  const elsewhere = ['http://*/*', 'https://*/*', 'ws://*/*', 'wss://*/*', 'ftp://*/*', 'file://*']
  session.webRequest.onBeforeRequest({ urls: elsewhere }, (_request, decide) => decide({ cancel: true }))
  session.on('will-download', (event) => event.preventDefault())
}
