import { readFile, readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { calls, type CallName } from '../../../../main/contract/calls.ts'
import { picturePath } from '../../../../main/contract/picture-paths.ts'
import { VISIT_HEADER } from '../../../../main/contract/visit.ts'
import { type LoopbackHost, openLoopbackHost } from '../../../../main/hosts/loopback/loopback-host.ts'
import { FAKE_JPEG, type FakeServices, fakeServices, temporaryWindow } from '../fake-services.ts'
import { SAMPLE_INPUTS } from '../sample-inputs.ts'
import { ask, postJson, type Visitor, visitorOf } from './visitor.ts'

let host: LoopbackHost
let services: FakeServices
let place: Awaited<ReturnType<typeof temporaryWindow>>
let visitor: Visitor
const log = vi.fn()

beforeEach(async () => {
  log.mockClear()
  place = await temporaryWindow()
  services = fakeServices(place.folder)
  host = await openLoopbackHost({ services, windowFolder: place.windowFolder, log })
  visitor = await visitorOf(host)
})

afterEach(async () => {
  await host.close()
  await place.remove()
})

describe('calls', () => {
  test.each(Object.keys(calls) as CallName[])('%s is reachable, and its input arrives whole', async (name) => {
    const reply = await postJson(host, `/call/${name}`, SAMPLE_INPUTS[name], visitor.headers)
    expect(reply.status).toBe(200)
    expect(reply.json()).toEqual({ ok: true, value: { name, input: SAMPLE_INPUTS[name] } })
  })

  test('a call that nobody knows is refused', async () => {
    for (const name of ['dogs.eat', '__proto__', 'constructor', 'toString']) {
      const reply = await postJson(host, `/call/${name}`, {}, visitor.headers)
      expect(reply.status).toBe(404)
      expect(reply.json()).toMatchObject({ ok: false, error: { code: 'refused' } })
    }
  })

  test('an input that breaks a rule is told by field, rule and value', async () => {
    const dog = { ...SAMPLE_INPUTS['dogs.keep'].dog, withersM: 3 }
    const reply = await postJson(host, '/call/dogs.keep', { id: null, dog }, visitor.headers)
    expect(reply.json()).toEqual({
      ok: false,
      error: { code: 'bad-input', message: 'dog.withersM must be at most 1.2; it is 3.' },
    })
  })

  test('what is no JSON, or not sent as JSON, is refused', async () => {
    const post = (body: string, type: string) =>
      ask(host, '/call/dogs.list', { method: 'POST', body, headers: { ...visitor.headers, 'content-type': type } })
    expect((await post('{"id":', 'application/json')).json()).toMatchObject({ error: { code: 'bad-input' } })
    expect((await post('{}', 'text/plain')).status).toBe(415)
  })

  test('an input that is too big is refused', async () => {
    const reply = await postJson(host, '/call/dogs.list', { words: 'x'.repeat(2 ** 20) }, visitor.headers)
    expect(reply.status).toBe(413)
    expect(reply.json()).toMatchObject({ ok: false, error: { code: 'bad-input' } })
  })

  test('a handler that breaks is written down, and the window is told what was being done', async () => {
    const broken = { ...services.handlers, 'rides.get': () => Promise.reject(new Error('/secret/place broke')) }
    const other = await openLoopbackHost({
      services: { ...services, handlers: broken },
      windowFolder: place.windowFolder,
      log,
    })
    const reply = await postJson(other, '/call/rides.get', { rideId: 'ride-1' }, (await visitorOf(other)).headers)
    await other.close()
    expect(reply.json()).toMatchObject({ ok: false, error: { code: 'failed' } })
    expect(reply.text).toContain('while opening the ride')
    expect(reply.text).not.toContain('secret')
    expect(log).toHaveBeenCalledWith('failed while opening the ride (rides.get)', expect.any(Error))
  })
})

describe('the door', () => {
  const isRefused = { ok: false, error: { code: 'refused' } }

  test('the token of an address is traded for keys behind the #, which no other port of this machine is sent', async () => {
    const address = new URL(host.newAddress())
    const reply = await ask(host, address.pathname + address.search)
    expect(reply.status).toBe(303)
    expect(reply.headers['location']).toMatch(/^\/#visit=[\w-]{43}\.[\w-]{43}$/)
    expect(reply.headers['set-cookie']).toBeUndefined()
  })

  test('a token works once', async () => {
    const address = new URL(host.newAddress())
    const first = await ask(host, address.pathname + address.search)
    const second = await ask(host, address.pathname + address.search)
    expect([first.status, second.status]).toEqual([303, 403])
    expect(second.headers['location']).toBeUndefined()
  })

  test('a new address makes the one before it void', async () => {
    const old = new URL(host.newAddress())
    host.newAddress()
    expect((await ask(host, old.pathname + old.search)).status).toBe(403)
  })

  test('a wrong token is refused and spends nothing', async () => {
    const address = new URL(host.newAddress())
    expect((await ask(host, '/?token=guessed')).status).toBe(403)
    expect((await ask(host, address.pathname + address.search)).status).toBe(303)
  })

  test.each(['/happenings', picturePath('clip-1', 0, 'frame')])('%s stays shut without its key', async (path) => {
    const guessed = 'x'.repeat(43)
    for (const key of ['', 'guessed', guessed, visitor.visit.askKey]) {
      const reply = await ask(host, `/view/${key}${path}`)
      expect(reply.status).toBe(403)
    }
    expect((await ask(host, path)).status).toBe(404)
    expect(services.picturesAskedFor).toEqual([])
    expect(services.listeners.size).toBe(0)
  })

  test('calls and uploads stay shut without their key, with that of another start, and with the one for looking', async () => {
    const wrong = [undefined, 'guessed', 'x'.repeat(43), visitor.visit.viewKey]
    for (const key of wrong) {
      const headers = { origin: host.origin, [VISIT_HEADER]: key }
      expect((await postJson(host, '/call/dogs.list', {}, headers)).json()).toMatchObject(isRefused)
      expect((await ask(host, '/files', { method: 'PUT', headers, body: 'x' })).status).toBe(403)
    }
  })

  test('a cookie opens nothing, so that one which another port was sent is of no use', async () => {
    const cookie = `tiphold-${new URL(host.origin).port}=${visitor.visit.askKey}; visit=${visitor.visit.askKey}`
    const headers = { origin: host.origin, cookie }
    expect((await postJson(host, '/call/dogs.list', {}, headers)).json()).toMatchObject(isRefused)
    expect((await ask(host, `/view/x/happenings`, { headers: { cookie } })).status).toBe(403)
  })

  test('the page itself, in which nothing is secret, needs no key: a reload and a second tab bring none', async () => {
    for (const path of ['/', '/index.html', '/assets/index-1a2b.js']) expect((await ask(host, path)).status).toBe(200)
  })

  test('a person with a spent address reads a sentence', async () => {
    const reply = await ask(host, '/?token=spent', { headers: { accept: 'text/html' } })
    expect([reply.status, reply.text]).toEqual([
      403,
      'Tiphold does not know this browser. Start Tiphold again and use the address that it gives.\n',
    ])
  })

  test.each(['http://evil.example', 'null', 'http://localhost:1', 'https://127.0.0.1'])(
    'the origin %s is refused, with the keys and all',
    async (origin) => {
      expect((await postJson(host, '/call/dogs.list', {}, { ...visitor.headers, origin })).json()).toMatchObject(
        isRefused,
      )
      expect((await ask(host, '/', { headers: { ...visitor.headers, origin } })).status).toBe(403)
    },
  )

  test('a change without any origin is refused', async () => {
    const reply = await postJson(host, '/call/dogs.list', {}, { ...visitor.headers, origin: undefined })
    expect(reply.json()).toMatchObject(isRefused)
  })

  test.each(['evil.example', 'localhost', '127.0.0.1:1', '127.0.0.1'])(
    'the host name %s is refused, also at the first visit',
    async (name) => {
      expect((await postJson(host, '/call/dogs.list', {}, { ...visitor.headers, host: name })).status).toBe(403)
      const address = new URL(host.newAddress())
      const first = await ask(host, address.pathname + address.search, { headers: { host: name } })
      expect([first.status, first.headers['location']]).toEqual([403, undefined])
    },
  )

  test('a picture is not given into the page of another site', async () => {
    const headers = { ...visitor.headers, origin: undefined, 'sec-fetch-site': 'cross-site' }
    expect((await ask(host, visitor.view(picturePath('clip-1', 0, 'frame')), { headers })).status).toBe(403)
  })

  test('other sites are never told that they may ask', async () => {
    const headers = { origin: 'http://evil.example', 'access-control-request-method': 'POST' }
    const reply = await ask(host, '/call/dogs.list', { method: 'OPTIONS', headers })
    const allowing = Object.keys(reply.headers).filter((name) => name.startsWith('access-control'))
    expect([reply.status, allowing]).toEqual([403, []])
  })
})

describe('pictures', () => {
  test('come as JPEG and may be kept by the browser', async () => {
    const reply = await ask(host, visitor.view(picturePath('clip-1', 7, 'full')))
    expect(reply.status).toBe(200)
    expect(reply.headers).toMatchObject({
      'content-type': 'image/jpeg',
      'content-length': String(FAKE_JPEG.length),
      'cache-control': 'private, max-age=86400, immutable',
    })
    expect(services.picturesAskedFor).toEqual(['clip-1 full 7'])
  })

  test('of a clip or a frame that is not there are not found, and that is not kept', async () => {
    for (const path of [picturePath('clip-2', 0, 'frame'), picturePath('clip-1', 100, 'frame')]) {
      const reply = await ask(host, visitor.view(path))
      expect([reply.status, reply.headers['cache-control']]).toEqual([404, 'no-store'])
    }
  })

  test.each([
    '/pictures/../../secret.txt',
    '/pictures/..%2F..%2Fsecret.txt/frame/0',
    '/pictures/%2e%2e/frame/0',
    '/pictures/clip-1%00/frame/0',
    '/pictures//etc/passwd/frame/0',
    '/pictures/clip-1/huge/0',
    '/pictures/clip-1/frame/-1',
    '/pictures/clip-1/frame/1e3',
    '/pictures/clip-1/frame/0/../../x',
    '/pictures/clip-1/frame/0?size=full',
  ])('%s asks nobody for anything', async (path) => {
    const reply = await ask(host, visitor.view(path))
    expect(reply.status).toBeGreaterThanOrEqual(400)
    expect(reply.status).toBeLessThan(500)
    expect(services.picturesAskedFor).toEqual([])
  })
})

describe('files of the window', () => {
  test('the page comes with a policy under which only our own scripts run', async () => {
    const reply = await ask(host, '/')
    expect(reply.text).toContain('<title>Tiphold</title>')
    const policy = String(reply.headers['content-security-policy'])
    expect(policy).toContain("default-src 'none'; script-src 'self'; style-src 'self';")
    expect(policy).not.toMatch(/unsafe|\*|https?:|data:/)
    expect(policy).toContain('media-src blob:;')
    expect(reply.headers['permissions-policy']).toContain('microphone=(self)')
    expect(reply.headers).toMatchObject({
      'x-content-type-options': 'nosniff',
      'x-frame-options': 'DENY',
      'cross-origin-resource-policy': 'same-origin',
      'cache-control': 'no-store',
    })
  })

  test('a screen that is opened anew is the page again', async () => {
    const headers = { accept: 'text/html' }
    expect((await ask(host, '/rides/ride-1', { headers })).text).toContain('<title>Tiphold</title>')
  })

  test('scripts come as scripts', async () => {
    const reply = await ask(host, '/assets/index-1a2b.js')
    expect(reply.headers['content-type']).toMatch(/^(text|application)\/javascript/)
  })

  test.each([
    '/../secret.txt',
    '/assets/../../secret.txt',
    '/%2e%2e/secret.txt',
    '/..%2Fsecret.txt',
    '/..%5Csecret.txt',
    '/%00',
    '//secret.txt',
    '/assets',
    '/assets/',
    '/index.html%00.js',
  ])('%s leads nowhere', async (path) => {
    const reply = await ask(host, path)
    expect(reply.status).toBeGreaterThanOrEqual(400)
    expect(reply.text).not.toContain('a secret')
  })

  test('an absolute path to a file leads nowhere', async () => {
    const reply = await ask(host, join(place.folder, 'secret.txt'))
    expect(reply.status).toBe(404)
  })
})

describe('uploads', () => {
  const put = (name: string | undefined, body: Buffer) =>
    ask(host, '/files', {
      method: 'PUT',
      body,
      headers: { ...visitor.headers, 'content-type': 'application/octet-stream', 'x-file-name': name },
    })

  test('a file that is sent gets an id, and lies whole in the folder for uploads under its own name', async () => {
    const reply = await put(encodeURIComponent('Wren’s run 2.mp4'), Buffer.from('a clip'))
    const { value } = reply.json() as { value: { fileId: string } }
    const path = services.files.pathOf(value.fileId) ?? ''
    expect(path.startsWith(join(place.folder, 'uploads'))).toBe(true)
    expect(path.endsWith('Wren’s run 2.mp4')).toBe(true)
    expect(await readFile(path, 'utf8')).toBe('a clip')
    expect(reply.text).not.toContain(place.folder)
  })

  test('a name that points elsewhere is only a name', async () => {
    const reply = await put(encodeURIComponent('../../../secret.txt'), Buffer.from('x'))
    const { value } = reply.json() as { value: { fileId: string } }
    expect(services.files.pathOf(value.fileId)).toMatch(/uploads[\\/][\w-]+[\\/]secret\.txt$/)
    expect(await readFile(join(place.folder, 'secret.txt'), 'utf8')).toBe('a secret')
  })

  test('a file that is too large is refused, and nothing of it is left', async () => {
    const reply = await put('long.mp4', Buffer.alloc(1001))
    expect(reply.status).toBe(400)
    expect(reply.json()).toMatchObject({ ok: false, error: { code: 'bad-input' } })
    expect(await readdir(join(place.folder, 'uploads'))).toEqual([])
  })

  test('a file without a name is refused', async () => {
    for (const name of [undefined, '%']) expect((await put(name, Buffer.from('x'))).status).toBe(400)
  })
})

describe('happenings', () => {
  test('are told as they happen, until the visitor leaves', async () => {
    const leaving = new AbortController()
    const response = await fetch(host.origin + visitor.view('/happenings'), { signal: leaving.signal })
    const reader = response.body?.pipeThrough(new TextDecoderStream()).getReader()
    expect((await reader?.read())?.value).toBe(':\n\n')
    services.tell({ kind: 'changed', what: 'dogs' })
    expect((await reader?.read())?.value).toBe('data: {"kind":"changed","what":"dogs"}\n\n')
    expect(services.listeners.size).toBe(1)
    leaving.abort()
    await vi.waitFor(() => expect(services.listeners.size).toBe(0))
  })
})

test('a call that is under way when the host is closed is still done', async () => {
  let isKept = false
  let finish: () => void = () => undefined
  const mayFinish = new Promise<void>((resolve) => (finish = resolve))
  const keep = async () => {
    await mayFinish
    isKept = true
    return { ok: true, value: null } as never
  }
  const begun = vi.fn(keep)
  const other = await openLoopbackHost({
    services: { ...services, handlers: { ...services.handlers, 'rides.correct': begun } },
    windowFolder: place.windowFolder,
    log,
  })
  const asked = postJson(other, '/call/rides.correct', SAMPLE_INPUTS['rides.correct'], (await visitorOf(other)).headers)
  await vi.waitFor(() => expect(begun).toHaveBeenCalled())
  let isClosed = false
  const closing = other.close().then(() => (isClosed = true))
  // It turns visitors away from then on, but it is still there: the call under way holds the closing up.
  await vi.waitFor(async () => expect((await fetch(other.origin)).status).toBe(503))
  expect(isClosed).toBe(false)
  finish()
  await closing
  expect(isKept).toBe(true)
  await asked.catch(() => undefined)
})
