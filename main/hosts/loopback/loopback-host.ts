import { createReadStream } from 'node:fs'
import type { AddressInfo } from 'node:net'
import type { Readable } from 'node:stream'
import { setTimeout } from 'node:timers/promises'
import fastifyStatic from '@fastify/static'
import Fastify, { type FastifyInstance, type FastifyReply, type FastifyRequest } from 'fastify'
import { type Outcome, problem, type ProblemCode } from '../../contract/outcome.ts'
import { viewPath, type Visit, VISIT_HEADER, visitFragment } from '../../contract/visit.ts'
import { LARGEST_FILE_BYTES } from '../../services/handed-files.ts'
import type { Services } from '../../services/services.ts'
import { answer, isCallName, type Log } from '../answer.ts'
import { PICTURE_CACHING, pictureRequest } from '../picture-request.ts'
import { SECURITY_HEADERS } from '../security-headers.ts'
import { type Doorkeeper, openDoorkeeper, type Sender } from './doorkeeper.ts'
import { happeningStream } from './happening-stream.ts'

/** Tiphold served to a browser on this very machine. */
export interface LoopbackHost {
  /** http://127.0.0.1:PORT */
  readonly origin: string
  /** An address for one first visit; a later one makes those before it void. */
  newAddress(): string
  close(): Promise<void>
}

export interface LoopbackHostOptions {
  readonly services: Pick<Services, 'handlers' | 'pictures' | 'files' | 'exports' | 'onHappening'>
  /** Where the built window lies. */
  readonly windowFolder: string
  readonly log: Log
}

/** The most that an input of a call may take. */
const LARGEST_INPUT_BYTES = 2 ** 20
/** How long calls that are under way are waited for when the host closes. */
const LONGEST_LAST_CALL_MS = 2000

export async function openLoopbackHost(options: LoopbackHostOptions): Promise<LoopbackHost> {
  const server = Fastify({ bodyLimit: LARGEST_INPUT_BYTES, forceCloseConnections: true, logger: false })
  const keeper = openDoorkeeper()
  setUpRefusals(server, options)
  setUpHeaders(server)
  setUpDoor(server, keeper)
  knownVisitorsOnly(server, keeper, 'askKey', (inner) => {
    setUpCalls(inner, options)
    setUpUploads(inner, options)
  })
  knownVisitorsOnly(server, keeper, 'viewKey', (inner) => {
    setUpHappenings(inner, options)
    setUpPictures(inner, options)
    setUpExports(inner, options)
  })
  await setUpWindow(server, options)

  await server.listen({ host: '127.0.0.1', port: 0 })
  const { port } = server.server.address() as AddressInfo
  const origin = `http://127.0.0.1:${port}`
  return {
    origin,
    newAddress: () => `${origin}/?token=${keeper.newToken()}`,
    close: () => server.close(),
  }
}

function setUpHeaders(server: FastifyInstance): void {
  server.addHook('onRequest', async (_request, reply) => {
    reply.headers(SECURITY_HEADERS).header('cache-control', 'no-store')
  })
}

/** Before anything else is looked at: who sends it; a first visit is given its keys. */
function setUpDoor(server: FastifyInstance, keeper: Doorkeeper): void {
  server.addHook('onRequest', async (request, reply) => {
    const sender = senderOf(request)
    const token = firstVisitToken(request)
    if (token !== null) {
      const visit = keeper.admit(sender, token)
      if (visit !== null) return reply.redirect(`/${visitFragment(visit)}`, 303)
      return stayOut(request, reply, UNKNOWN_VISITOR)
    }
    const objection = keeper.objection(sender)
    return objection === null ? undefined : stayOut(request, reply, objection)
  })
}

/** Everything of the library lies behind this: what `setUp` adds answers to those alone who were given this key. */
function knownVisitorsOnly(
  server: FastifyInstance,
  keeper: Doorkeeper,
  key: keyof Visit,
  setUp: (inner: FastifyInstance) => void,
): void {
  server.register((inner, _options, done) => {
    inner.addHook('onRequest', async (request, reply) => {
      const value = key === 'askKey' ? request.headers[VISIT_HEADER] : VIEW_PATH.exec(request.url)?.[1]
      const isKnown = typeof value === 'string' && keeper.knows(key, value)
      return isKnown ? undefined : stayOut(request, reply, UNKNOWN_VISITOR)
    })
    setUp(inner)
    done()
  })
}

const UNKNOWN_VISITOR = 'Tiphold does not know this browser. Start Tiphold again and use the address that it gives.'

/** What stands behind the key is looked at as it was sent, before anything in it is decoded. */
const VIEW_PATH = /^\/view\/([\w-]{43})(\/.*)$/

function stayOut(request: FastifyRequest, reply: FastifyReply, objection: string): FastifyReply {
  if (asksForPage(request)) return reply.code(403).type('text/plain; charset=utf-8').send(`${objection}\n`)
  return refuse(reply, 403, problem('refused', objection))
}

function senderOf(request: FastifyRequest): Sender {
  const { host, origin } = request.headers
  const fetchSite = request.headers['sec-fetch-site']
  return {
    authority: `127.0.0.1:${request.socket.localPort}`,
    method: request.method,
    host,
    origin,
    fetchSite: typeof fetchSite === 'string' ? fetchSite : undefined,
  }
}

function firstVisitToken({ method, url }: FastifyRequest): string | null {
  return method === 'GET' && url.startsWith('/?') ? new URLSearchParams(url.slice(2)).get('token') : null
}

function asksForPage({ method, headers }: FastifyRequest): boolean {
  return method === 'GET' && (headers.accept ?? '').includes('text/html')
}

function setUpCalls(server: FastifyInstance, { services, log }: LoopbackHostOptions): void {
  // JSON alone: a browser sends plain text for any page without asking us first.
  server.removeContentTypeParser('text/plain')
  const underWay = new Set<Promise<unknown>>()
  server.post('/call/:name', async (request, reply) => {
    const { name } = request.params as { name: string }
    const answering = answer(services.handlers, name, request.body, log)
    underWay.add(answering)
    const outcome = await answering.finally(() => underWay.delete(answering))
    return reply.code(isCallName(name) ? 200 : 404).send(outcome)
  })
  // A closed window may have said something at its last moment: that is still done.
  server.addHook('preClose', async () => {
    await Promise.race([Promise.allSettled(underWay), setTimeout(LONGEST_LAST_CALL_MS, undefined, { ref: false })])
  })
}

function setUpHappenings(server: FastifyInstance, { services }: LoopbackHostOptions): void {
  server.get(viewPath(':viewKey', '/happenings'), async (_request, reply) => {
    return reply.type('text/event-stream').send(happeningStream(services.onHappening))
  })
}

function setUpUploads(server: FastifyInstance, { services }: LoopbackHostOptions): void {
  // The stream itself is the body; it is counted while it is written.
  server.addContentTypeParser('application/octet-stream', (_request, payload, done) => done(null, payload))
  server.put('/files', { bodyLimit: LARGEST_FILE_BYTES }, async (request, reply) => {
    const name = decodedName(request.headers['x-file-name'])
    if (name === null) return refuse(reply, 400, problem('bad-input', 'The file came without a name.'))
    const outcome = await services.files.receive(name, request.body as Readable)
    return reply.code(outcome.ok ? 200 : 400).send(outcome)
  })
}

function decodedName(header: string | string[] | undefined): string | null {
  try {
    return typeof header === 'string' ? decodeURIComponent(header) : null
  } catch {
    return null
  }
}

function setUpPictures(server: FastifyInstance, { services, log }: LoopbackHostOptions): void {
  server.get(viewPath(':viewKey', '/pictures/*'), async (request, reply) => {
    const wanted = pictureRequest(VIEW_PATH.exec(request.url)?.[2] ?? '')
    if (wanted === null) return refuse(reply, 404, problem('not-found', 'There is no such picture.'))
    const gone = new AbortController()
    reply.raw.on('close', () => gone.abort())
    try {
      const { clipId, size, index } = wanted
      const outcome = await services.pictures.jpeg(clipId, size, index, gone.signal)
      if (!outcome.ok) return refuse(reply, pictureStatus(outcome.error.code), outcome)
      return reply.header('cache-control', PICTURE_CACHING).type('image/jpeg').send(Buffer.from(outcome.value))
    } catch (error) {
      if (!gone.signal.aborted) log('failed while fetching a picture', error)
      return refuse(reply, 500, problem('failed', 'This picture could not be read.'))
    }
  })
}

/** A file that the handler has ordered; the browser saves it and never shows it. */
function setUpExports(server: FastifyInstance, { services }: LoopbackHostOptions): void {
  server.get(viewPath(':viewKey', '/exports/:exportId'), async (request, reply) => {
    const { exportId } = request.params as { exportId: string }
    const ready = services.exports.ready(exportId)
    if (ready === null) return refuse(reply, 404, problem('not-found', 'This file is no longer there: make it again.'))
    return reply
      .header('content-disposition', `attachment; filename*=UTF-8''${encodeURIComponent(ready.fileName)}`)
      .header('content-length', ready.bytes)
      .type('application/octet-stream')
      .send(createReadStream(ready.path))
  })
}

function pictureStatus(code: ProblemCode): number {
  return code === 'not-found' || code === 'file-missing' ? 404 : 500
}

async function setUpWindow(server: FastifyInstance, { windowFolder }: LoopbackHostOptions): Promise<void> {
  // Without wildcard only files that are there now can be asked for at all.
  await server.register(fastifyStatic, {
    root: windowFolder,
    wildcard: false,
    cacheControl: false,
    setHeaders: (reply, path) => {
      const isNamedByContent = /[\\/]assets[\\/]/.test(path)
      reply.setHeader('cache-control', isNamedByContent ? 'private, max-age=86400, immutable' : 'no-store')
    },
  })
}

function setUpRefusals(server: FastifyInstance, { log }: LoopbackHostOptions): void {
  server.setNotFoundHandler((request, reply) => {
    // A screen of the window that is opened anew; the window itself finds out which.
    if (asksForPage(request) && /^\/[\w/-]*$/.test(request.url)) return reply.sendFile('index.html')
    return refuse(reply, 404, problem('not-found', 'There is nothing here.'))
  })
  server.setErrorHandler((error: Error & { statusCode?: number }, _request, reply) => {
    const status = error.statusCode ?? 500
    if (status === 413) return refuse(reply, 413, problem('bad-input', 'This is more than can be taken in at once.'))
    if (status < 500) return refuse(reply, status, problem('bad-input', 'The request could not be read.'))
    log('failed while answering the window', error)
    return refuse(reply, 500, problem('failed', 'Something went wrong in Tiphold. It is not your fault.'))
  })
}

function refuse(reply: FastifyReply, status: number, outcome: Outcome<never>): FastifyReply {
  return reply.code(status).send(outcome)
}
