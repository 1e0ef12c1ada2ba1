import type { Session } from 'electron'
import { WINDOW_ORIGIN } from './channels.ts'

/** Denies the window all that a page can ask for but the microphone, and every way out of this machine. */
export function setupPermissions(session: Session): void {
  session.setPermissionRequestHandler((_contents, permission, decide, details) =>
    decide(
      mayRecord(permission, details.requestingUrl, 'mediaTypes' in details ? (details.mediaTypes ?? []) : []) &&
        details.isMainFrame,
    ),
  )
  session.setPermissionCheckHandler((_contents, permission, origin, { mediaType, isMainFrame }) => {
    return mayRecord(permission, origin, mediaType === undefined ? [] : [mediaType]) && isMainFrame
  })
  session.setDevicePermissionHandler(() => false)
  const elsewhere = ['http://*/*', 'https://*/*', 'ws://*/*', 'wss://*/*', 'ftp://*/*', 'file://*']
  session.webRequest.onBeforeRequest({ urls: elsewhere }, (_request, decide) => decide({ cancel: true }))
  session.on('will-download', (event, item) => {
    if (!mayBeSaved(item.getURL())) event.preventDefault()
  })
}

/** Spoken comments: sound alone, and for our own page alone. */
export function mayRecord(permission: string, address: string, wanted: readonly string[]): boolean {
  const isOurs = address === WINDOW_ORIGIN || address.startsWith(`${WINDOW_ORIGIN}/`)
  return permission === 'media' && isOurs && wanted.length > 0 && wanted.every((type) => type === 'audio')
}

/** What the window has made itself, a report for instance, is saved where the handler says; nothing else comes down. */
export function mayBeSaved(address: string): boolean {
  return address.startsWith(`blob:${WINDOW_ORIGIN}/`)
}
