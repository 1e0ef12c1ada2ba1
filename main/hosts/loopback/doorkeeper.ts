import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'
import type { Visit } from '../../contract/visit.ts'

/** Decides who may speak to the loopback host. Other programs and other pages on this machine can reach its port. */
export interface Doorkeeper {
  /** A secret for one first visit, to be put into an address. It is void after it, and as soon as another is made. */
  newToken(): string
  /** Trades the token of a first visit for a visitor's keys; null if it is wrong or was used, or sent to another name. */
  admit(sender: Sender, token: string): Visit | null
  /** Why a request is not even listened to, whatever keys it has; null if it is. */
  objection(sender: Sender): string | null
  /** Whether a visitor was given this key. */
  knows(key: keyof Visit, value: string): boolean
}

/** The parts of a request that tell who sends it. */
export interface Sender {
  /** Our own name and port, as in 127.0.0.1:4711. */
  readonly authority: string
  readonly method: string
  readonly host: string | undefined
  readonly origin: string | undefined
  /** The browser's own word for the relation of the sender to us, in `Sec-Fetch-Site`. */
  readonly fetchSite: string | undefined
}

export function openDoorkeeper(): Doorkeeper {
  let token: string | null = null
  const visitors: Readonly<Record<keyof Visit, Buffer>>[] = []

  return {
    newToken() {
      token = newSecret()
      return token
    },
    admit({ host, authority }, offered) {
      // Where the address was clicked does not matter: its token is the proof.
      if (host !== authority || token === null || !isSame(digest(offered), digest(token))) return null
      token = null
      const visit = { askKey: newSecret(), viewKey: newSecret() }
      visitors.push({ askKey: digest(visit.askKey), viewKey: digest(visit.viewKey) })
      return visit
    },
    objection({ authority, method, host, origin, fetchSite }) {
      // A name that was made to point here must not pass for us.
      if (host !== authority) return 'The request is addressed to another host.'
      if (origin !== undefined && origin !== `http://${authority}`) return 'The request comes from another page.'
      if (origin === undefined && method !== 'GET') return 'The request does not say where it comes from.'
      if (fetchSite !== undefined && !['same-origin', 'none'].includes(fetchSite)) {
        return 'The request comes from another page.'
      }
      return null
    },
    knows: (key, value) => visitors.some((visitor) => isSame(visitor[key], digest(value))),
  }
}

function newSecret(): string {
  return randomBytes(32).toString('base64url')
}

function digest(secret: string): Buffer {
  return createHash('sha256').update(secret).digest()
}

function isSame(one: Buffer, other: Buffer): boolean {
  return timingSafeEqual(one, other)
}
