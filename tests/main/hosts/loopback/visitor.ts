import { request } from 'node:http'
import { viewPath, type Visit, VISIT_HEADER, visitOf } from '../../../../main/contract/visit.ts'
import type { LoopbackHost } from '../../../../main/hosts/loopback/loopback-host.ts'

export interface Reply {
  readonly status: number
  readonly headers: Readonly<Record<string, string | string[] | undefined>>
  readonly text: string
  json(): unknown
}

export interface Ask {
  readonly method?: string
  readonly headers?: Readonly<Record<string, string | undefined>>
  readonly body?: string | Buffer
}

/** Asks the host with exactly these headers and this path, which a browser or `fetch` would tidy up first. */
export function ask(
  host: LoopbackHost,
  path: string,
  { method = 'GET', headers = {}, body }: Ask = {},
): Promise<Reply> {
  const { port } = new URL(host.origin)
  const given = Object.fromEntries(Object.entries(headers).filter(([, value]) => value !== undefined))
  return new Promise((resolve, reject) => {
    const asking = request({ host: '127.0.0.1', port, path, method, headers: given }, (response) => {
      const chunks: Buffer[] = []
      response.on('data', (chunk: Buffer) => chunks.push(chunk))
      response.on('error', reject)
      response.on('end', () => {
        const text = Buffer.concat(chunks).toString('utf8')
        const { statusCode: status = 0, headers } = response
        resolve({ status, headers, text, json: () => JSON.parse(text) as unknown })
      })
    })
    asking.on('error', reject)
    asking.end(body)
  })
}

export interface Visitor {
  readonly visit: Visit
  /** With these a visitor may ask for anything. */
  readonly headers: Readonly<Record<string, string>>
  /** The path under which this visitor is shown what lies at `path`. */
  view(path: string): string
}

/** Makes the first visit. */
export async function visitorOf(host: LoopbackHost): Promise<Visitor> {
  const address = new URL(host.newAddress())
  const reply = await ask(host, address.pathname + address.search)
  const visit = visitOf(new URL(String(reply.headers['location']), host.origin).hash)
  if (visit === null) throw new Error(`the first visit was answered with ${reply.status}`)
  return {
    visit,
    headers: { origin: host.origin, [VISIT_HEADER]: visit.askKey },
    view: (path) => viewPath(visit.viewKey, path),
  }
}

export function postJson(host: LoopbackHost, path: string, input: unknown, headers: Ask['headers']): Promise<Reply> {
  const body = JSON.stringify(input)
  return ask(host, path, { method: 'POST', body, headers: { 'content-type': 'application/json', ...headers } })
}
