import { mkdir, writeFile } from 'node:fs/promises'
import { connect } from 'node:net'
import { join } from 'node:path'
import { calls, type CallName } from '../../main/contract/calls.ts'
import type { Outcome } from '../../main/contract/outcome.ts'
import { picturePath } from '../../main/contract/picture-paths.ts'
import { VISIT_HEADER } from '../../main/contract/visit.ts'
import { type LoopbackHost, openLoopbackHost } from '../../main/hosts/loopback/loopback-host.ts'
import { openServices } from '../../main/services/services.ts'
import { forkWorkerProcess } from '../../main/services/worker-process.ts'
import { ask, type Reply, type Visitor, visitorOf } from '../main/hosts/loopback/visitor.ts'
import { inFolder, orHangs, type TrialResult } from './trial.ts'

const SECRET = 'Bramble of the locked drawer'
const PAGE = '<!doctype html><title>Tiphold</title>'

/** A request that must get nothing. */
interface Hostile {
  readonly what: string
  send(): Promise<Pick<Reply, 'status' | 'text'>>
}

/**
 * Sends what strangers and broken programs may send to the loopback host on a real library: none may be shown or change
 * anything of it, none may break the host or leave it hanging, and the window is answered after them as before.
 */
export async function hostileRequestsTrial(): Promise<TrialResult> {
  return inFolder(async (folder) => {
    const windowFolder = join(folder, 'window')
    await mkdir(join(folder, 'samples'), { recursive: true })
    await mkdir(windowFolder)
    await writeFile(join(windowFolder, 'index.html'), PAGE)
    await writeFile(join(folder, 'secret.txt'), SECRET)
    const libraryFolder = join(folder, 'library')
    const services = valueOf(
      await openServices({
        samplesFolder: join(folder, 'samples'),
        startWorkerProcess: forkWorkerProcess,
        libraryFolder,
      }),
    )
    const dog = {
      name: SECRET,
      withersM: null,
      massKg: null,
      bodyDay: null,
      bornInMonth: null,
      criterion: null,
      note: '',
    }
    valueOf(await services.handlers['dogs.keep']({ id: null, dog }))
    const broken: string[] = []
    const host = await openLoopbackHost({ services, windowFolder, log: (line) => broken.push(line) })
    const faults: string[] = []
    let sent = 0
    try {
      const visitor = await visitorOf(host)
      for (const { what, send } of [...fromStrangers(host, visitor), ...fromTheWindow(host, visitor), ...raw(host)]) {
        sent += 1
        const reply = await orHangs(what, send())
        const isPage = reply.status === 200 && reply.text === PAGE
        if (reply.text.includes(SECRET)) faults.push(`${what} was shown what is in the library`)
        else if (reply.status < 400 && !isPage) faults.push(`${what} got in: ${reply.status}`)
        else if (reply.status >= 500) faults.push(`${what} broke the host: ${reply.status}`)
      }
      faults.push(...broken.map((line) => `the host wrote down: ${line}`))
      const after = await ask(host, '/call/dogs.list', { method: 'POST', body: '{}', headers: json(visitor.headers) })
      const { value } = after.json() as { value?: readonly { name: string }[] }
      if (value?.length !== 1 || value[0]?.name !== SECRET) faults.push('the library is not what it was')
    } finally {
      await host.close()
      await services.close()
    }
    return { name: 'hostile requests', counts: { requests: sent }, faults, skipped: null }
  })
}

/** Without the keys, with wrong ones, in a cookie, from another page, to another name: every call and everything else. */
function fromStrangers(host: LoopbackHost, { visit, headers }: Visitor): Hostile[] {
  const { port } = new URL(host.origin)
  const own = { origin: host.origin }
  const senders: Readonly<Record<string, Readonly<Record<string, string | undefined>>>> = {
    'no key': own,
    'a guessed key': { ...own, [VISIT_HEADER]: 'x'.repeat(43) },
    'the key for looking': { ...own, [VISIT_HEADER]: visit.viewKey },
    'the key in a cookie': { ...own, cookie: `${VISIT_HEADER}=${visit.askKey}; tiphold-${port}=${visit.askKey}` },
    'the keys and another origin': { ...headers, origin: 'http://127.0.0.1:1' },
    'the keys and another name': { ...headers, host: `tiphold.example:${port}` },
    'the keys and no origin': { ...headers, origin: undefined },
    'the keys, from another site': { ...headers, 'sec-fetch-site': 'cross-site' },
  }
  const ways: Hostile[] = Object.entries(senders).flatMap(([sender, sent]) => [
    ...Object.keys(calls).map((name) => post(host, `/call/${name}`, '{}', sent, `${name} with ${sender}`)),
    request(host, 'PUT', '/files', { ...sent, 'x-file-name': 'a.mp4' }, `an upload with ${sender}`, 'x'),
  ])
  const looked = ['/happenings', picturePath('clip-1', 0, 'frame'), '/../secret.txt', '/%2e%2e/secret.txt']
  const keys = ['', 'guessed', 'x'.repeat(43), visit.askKey, `${visit.viewKey.slice(0, 42)}*`]
  const views = keys.flatMap((key) =>
    looked.map((path) => request(host, 'GET', `/view/${key}${path}`, {}, `a look at ${path} with key "${key}"`)),
  )
  const tokens = ['', 'guessed', 'x'.repeat(43), visit.askKey, visit.viewKey, '%00', '[]'].map((token) =>
    request(host, 'GET', `/?token=${token}`, {}, `a first visit with token "${token}"`),
  )
  return [...ways, ...views, ...tokens, ...paths(host, {})]
}

/** What leads out of the window's folder, were it followed. */
function paths(host: LoopbackHost, headers: Readonly<Record<string, string>>): Hostile[] {
  const places = ['secret.txt', 'library/library.json', 'etc/passwd']
  const ways = [
    '/../',
    '/..%2f',
    '/%2e%2e/',
    '/..%5c',
    '//',
    '/assets/../../',
    '/%c0%ae%c0%ae/',
    '/.%00./',
    '/file:///',
  ]
  return places.flatMap((place) =>
    ways.map((way) => request(host, 'GET', `${way}${place}`, headers, `the path ${way}${place}`)),
  )
}

/** With the keys, as a window gone wrong: inputs of the wrong shape for every call, and paths. */
function fromTheWindow(host: LoopbackHost, { headers, view }: Visitor): Hostile[] {
  const nested = '['.repeat(20_000) + ']'.repeat(20_000)
  const inputs = ['null', '[]', '"x"', '{"id":{"$ne":null}}', nested, '{"__proto__":{"isAdmin":true},"id":1e999}', '{']
  const wrong = (Object.keys(calls) as CallName[]).flatMap((name) =>
    inputs
      // Calls that need nothing take any object.
      .filter((input) => !(input.startsWith('{"') && calls[name].input.safeParse(JSON.parse(input)).success))
      .map((input) => post(host, `/call/${name}`, input, headers, `${name} of ${input.slice(0, 20)}`)),
  )
  const names = ['__proto__', 'constructor', 'toString', 'dogs.list/..', '%00', 'dogs.eat']
  const unknown = names.map((name) => post(host, `/call/${name}`, '{}', headers, `the call ${name}`))
  const pictures = ['/pictures/../../secret.txt', '/pictures/..%2f..%2fsecret.txt/frame/0', '/pictures/x/frame/1e3']
  const looks = pictures.map((path) => request(host, 'GET', view(path), {}, `the picture ${path}`))
  const uploads = ['%', '%ff', undefined].map((name) =>
    request(host, 'PUT', '/files', { ...headers, 'x-file-name': name }, `an upload named ${name}`, 'x'),
  )
  return [...wrong, ...unknown, ...looks, ...uploads, ...paths(host, headers)]
}

/** What is no proper HTTP. */
function raw(host: LoopbackHost): Hostile[] {
  const { port } = new URL(host.origin)
  const name = `host: 127.0.0.1:${port}`
  const texts = {
    'no HTTP at all': 'open the library\r\n\r\n',
    'a request without a name': 'GET / HTTP/1.1\r\n\r\n',
    'two names': `POST /call/dogs.list HTTP/1.1\r\n${name}\r\nhost: evil.example\r\ncontent-length: 2\r\n\r\n{}`,
    'two lengths': `POST /call/dogs.list HTTP/1.1\r\n${name}\r\ncontent-length: 2\r\ncontent-length: 40\r\n\r\n{}`,
    'a length and chunks': `POST /call/dogs.list HTTP/1.1\r\n${name}\r\ncontent-length: 2\r\ntransfer-encoding: chunked\r\n\r\n0\r\n\r\n`,
    'a header of 100 KB': `GET /happenings HTTP/1.1\r\n${name}\r\nx: ${'y'.repeat(100_000)}\r\n\r\n`,
    'another place by name': `GET http://evil.example/call/dogs.list HTTP/1.1\r\nhost: evil.example\r\n\r\n`,
    'a tunnel': `CONNECT 127.0.0.1:${port} HTTP/1.1\r\n${name}\r\n\r\n`,
  }
  return Object.entries(texts).map(([what, text]) => ({ what, send: () => sendRaw(Number(port), text) }))
}

function sendRaw(port: number, text: string): Promise<Pick<Reply, 'status' | 'text'>> {
  return new Promise((resolve) => {
    let reply = ''
    const socket = connect(port, '127.0.0.1', () => socket.end(text))
    socket.setEncoding('utf8').on('data', (data: string) => (reply += data))
    socket.on('error', () => undefined)
    // A line that is cut without a word got nothing either.
    socket.on('close', () => resolve({ status: Number(/^HTTP\S* (\d+)/.exec(reply)?.[1] ?? 400), text: reply }))
  })
}

function post(
  host: LoopbackHost,
  path: string,
  body: string,
  headers: Readonly<Record<string, string | undefined>>,
  what: string,
): Hostile {
  return {
    what,
    async send() {
      const reply = await ask(host, path, { method: 'POST', body, headers: json(headers) })
      // A call that was understood and refused comes with 200 and an outcome that says so.
      const isRefused = reply.status === 200 && reply.text.startsWith('{"ok":false') && !reply.text.includes('"failed"')
      return { status: isRefused ? 400 : reply.status, text: reply.text }
    },
  }
}

function request(
  host: LoopbackHost,
  method: string,
  path: string,
  headers: Readonly<Record<string, string | undefined>>,
  what: string,
  body?: string,
): Hostile {
  return { what, send: () => ask(host, path, { method, headers, ...(body === undefined ? {} : { body }) }) }
}

function json(headers: Readonly<Record<string, string | undefined>>): Readonly<Record<string, string | undefined>> {
  return { 'content-type': 'application/json', ...headers }
}

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}
