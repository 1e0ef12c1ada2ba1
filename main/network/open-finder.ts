import { Worker } from 'node:worker_threads'
import type { AnimalFinder, FinderOutcome, Finding, RgbPicture } from './animal-finder.ts'
import type { FinderMessage, FindRequest } from './finder-messages.ts'
import type { TensorBackendChoice } from './tensor-backend.ts'

/** Starts the network in a thread of its own. Takes about half a second; close the finder when done. */
export function openAnimalFinder(): Promise<FinderOutcome> {
  const worker = startWorker()
  return new Promise((resolve) => {
    const unavailable = (why: string): void => {
      void worker.terminate()
      resolve({ kind: 'unavailable', why })
    }
    worker.once('error', (error) => {
      unavailable(error.message)
    })
    worker.once('exit', (code) => {
      unavailable(`the network's thread ended with exit code ${code} before it was ready`)
    })
    worker.once('message', (message: FinderMessage) => {
      if (message.kind === 'ready') resolve({ kind: 'open', finder: new ThreadedFinder(worker, message.backend) })
      else
        unavailable(message.kind === 'unavailable' ? message.why : `the network's thread began with "${message.kind}"`)
    })
  })
}

/** In a checkout the worker is TypeScript and needs its loader; in a built program it is JavaScript. */
function startWorker(): Worker {
  const extension = import.meta.url.endsWith('.ts') ? 'ts' : 'js'
  const entry = new URL(`./finder-worker.${extension}`, import.meta.url)
  if (extension === 'js') return new Worker(entry)
  return new Worker(new URL('./typescript-worker.mjs', import.meta.url), { workerData: { entry: entry.href } })
}

interface Waiting {
  readonly resolve: (findings: Finding[]) => void
  readonly reject: (error: Error) => void
}

class ThreadedFinder implements AnimalFinder {
  readonly backend: TensorBackendChoice
  readonly #worker: Worker
  readonly #waiting = new Map<number, Waiting>()
  #nextId = 0
  /** Set once no picture can be looked at any more. */
  #ended: Error | null = null

  constructor(worker: Worker, backend: TensorBackendChoice) {
    this.#worker = worker
    this.backend = backend
    // An idle finder must not keep the process alive.
    worker.unref()
    worker.on('message', (message: FinderMessage) => {
      this.#hear(message)
    })
    worker.on('error', (error) => {
      this.#end(new Error(`The network's thread broke off: ${error.message}`))
    })
    worker.on('exit', () => {
      this.#end(new Error('The finder was closed.'))
    })
  }

  find(picture: RgbPicture): Promise<Finding[]> {
    const wantedBytes = picture.widthPx * picture.heightPx * 3
    if (picture.rgb.length !== wantedBytes) {
      const size = `${picture.widthPx} x ${picture.heightPx} px`
      const problem = `a picture of ${size} has ${wantedBytes} bytes of rgb, not ${picture.rgb.length}`
      return Promise.reject(new RangeError(problem))
    }
    if (this.#ended !== null) return Promise.reject(this.#ended)
    const id = this.#nextId++
    this.#worker.ref()
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject })
      this.#worker.postMessage({ id, picture } satisfies FindRequest)
    })
  }

  async close(): Promise<void> {
    this.#end(new Error('The finder was closed.'))
    await this.#worker.terminate()
  }

  #hear(message: FinderMessage): void {
    if (message.kind !== 'found' && message.kind !== 'failed') return
    const waiting = this.#waiting.get(message.id)
    this.#waiting.delete(message.id)
    if (this.#waiting.size === 0) this.#worker.unref()
    if (message.kind === 'found') waiting?.resolve(message.findings)
    else waiting?.reject(new Error(message.why))
  }

  #end(error: Error): void {
    this.#ended ??= error
    for (const { reject } of this.#waiting.values()) reject(this.#ended)
    this.#waiting.clear()
  }
}
