import { protocol, type Session } from 'electron'
import { windowResponses, type WindowResponsesOptions } from './window-responses.ts'

const SCHEME = 'app'

/** Makes the shell's own protocol one with an origin of its own; must come before Electron is ready. */
export function registerProtocol(): void {
  protocol.registerSchemesAsPrivileged([
    { scheme: SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true } },
  ])
}

/** Serves the window and the pictures of clips to this session by the shell's own protocol. */
export function setupProtocol(session: Session, options: WindowResponsesOptions): void {
  session.protocol.handle(SCHEME, windowResponses(options))
}
