import { readFile } from 'node:fs/promises'
import type { ProblemCode } from '../../contract/outcome.ts'
import type { Pictures } from '../../film/pictures/pictures.ts'
import type { Log } from '../answer.ts'
import { PICTURE_CACHING, pictureRequest } from '../picture-request.ts'
import { SECURITY_HEADERS } from '../security-headers.ts'
import { WINDOW_ORIGIN } from './channels.ts'
import type { WindowFile } from './window-files.ts'

export interface WindowResponsesOptions {
  readonly files: ReadonlyMap<string, WindowFile>
  readonly pictures: Pictures
  readonly log: Log
}

/** Answers requests of the shell's own protocol: the window's files and pictures of clips, by registered id only. */
export function windowResponses({ files, pictures, log }: WindowResponsesOptions) {
  return async (request: Request): Promise<Response> => {
    const url = new URL(request.url)
    if (request.method !== 'GET' || `${url.protocol}//${url.host}` !== WINDOW_ORIGIN) return nothing(403)
    if (url.pathname.startsWith('/pictures/')) return picture(url.pathname + url.search, request.signal)
    const file = files.get(url.pathname) ?? (isScreen(url.pathname) ? files.get('/index.html') : undefined)
    if (file === undefined) return nothing(404)
    return response(await readFile(file.path), file.type, 'no-store')
  }

  async function picture(path: string, signal: AbortSignal): Promise<Response> {
    const wanted = pictureRequest(path)
    if (wanted === null) return nothing(404)
    try {
      const outcome = await pictures.jpeg(wanted.clipId, wanted.size, wanted.index, signal)
      return outcome.ok ? response(outcome.value, 'image/jpeg', PICTURE_CACHING) : nothing(statusOf(outcome.error.code))
    } catch (error) {
      if (!signal.aborted) log('failed while fetching a picture', error)
      return nothing(500)
    }
  }
}

/** A path that no file has: the window itself finds out which of its screens is meant. */
function isScreen(path: string): boolean {
  return /^\/[\w/-]*$/.test(path)
}

function statusOf(code: ProblemCode): number {
  return code === 'not-found' || code === 'file-missing' ? 404 : 500
}

function response(body: Uint8Array, type: string, caching: string): Response {
  // A copy of its own buffer is what a response takes.
  return new Response(Uint8Array.from(body), {
    headers: { ...SECURITY_HEADERS, 'content-type': type, 'cache-control': caching },
  })
}

function nothing(status: number): Response {
  return new Response(null, { status, headers: { ...SECURITY_HEADERS, 'cache-control': 'no-store' } })
}
