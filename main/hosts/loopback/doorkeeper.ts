import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'

/** Decides who may speak to the loopback host. Other programs and other pages on this machine can reach its port. */
export interface Doorkeeper {
  /** A secret for one first visit, to be put into an address. It is void after it, and as soon as another is made. */
  newToken(): string
  /** Trades the token of a first visit for a visitor's secret; null if it is wrong or was used, or sent to another name. */
  admit(request: VisitorRequest, token: string): string | null
  /** Why a request may not come in; null if it may. */
  objection(request: VisitorRequest): string | null
}

/** The parts of a request that tell who sends it. */
export interface VisitorRequest {
  /** Our own name and port, as in 127.0.0.1:4711. */
  readonly authority: string
  readonly method: string
  readonly host: string | undefined
  readonly origin: string | undefined
  /** The browser's own word for the relation of the sender to us, in `Sec-Fetch-Site`. */
  readonly fetchSite: string | undefined
  readonly secret: string | undefined
}

export function openDoorkeeper(): Doorkeeper {
  let token: string | null = null
  const visitors: Buffer[] = []

  return {
    newToken() {
      token = newSecret()
      return token
    },
    admit({ host, authority }, offered) {
      // Where the address was clicked does not matter: its token is the proof.
      if (host !== authority || token === null || !isSame(digest(offered), digest(token))) return null
      token = null
      const secret = newSecret()
      visitors.push(digest(secret))
      return secret
    },
    objection({ authority, method, host, origin, fetchSite, secret }) {
      // A name that was made to point here must not pass for us.
      if (host !== authority) return 'The request is addressed to another host.'
      if (origin !== undefined && origin !== `http://${authority}`) return 'The request comes from another page.'
      if (origin === undefined && method !== 'GET') return 'The request does not say where it comes from.'
      if (fetchSite !== undefined && !['same-origin', 'none'].includes(fetchSite)) {
        return 'The request comes from another page.'
      }
      const known = secret !== undefined && visitors.some((visitor) => isSame(visitor, digest(secret)))
      return known ? null : 'The visitor is not known. Start Tiphold again to get a new address.'
    },
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
