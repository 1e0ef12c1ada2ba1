import { request } from 'node:http'
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

/** Makes the first visit and gives the headers with which this visitor may ask from then on. */
export async function visit(host: LoopbackHost): Promise<{ readonly cookie: string; readonly origin: string }> {
  const address = new URL(host.newAddress())
  const reply = await ask(host, address.pathname + address.search)
  const cookie = String(reply.headers['set-cookie']).split(';')[0] ?? ''
  return { cookie, origin: host.origin }
}

export function postJson(host: LoopbackHost, path: string, input: unknown, headers: Ask['headers']): Promise<Reply> {
  const body = JSON.stringify(input)
  return ask(host, path, { method: 'POST', body, headers: { 'content-type': 'application/json', ...headers } })
}
