import { parentPort } from 'node:worker_threads'
import { loadCenternet } from './centernet.ts'
import type { FinderMessage, FindRequest } from './finder-messages.ts'
import { chooseTensorBackend } from './tensor-backend.ts'

/** The finder's own thread: the network computes here, so that the main thread stays free. */
async function serve(): Promise<void> {
  const { core, choice } = await chooseTensorBackend()
  const centernet = loadCenternet(core)
  parentPort?.on('message', ({ id, picture }: FindRequest) => {
    centernet.find(picture).then(
      (findings) => {
        post({ kind: 'found', id, findings })
      },
      (error: unknown) => {
        post({ kind: 'failed', id, why: sentence(error) })
      },
    )
  })
  post({ kind: 'ready', backend: choice })
}

function post(message: FinderMessage): void {
  parentPort?.postMessage(message)
}

function sentence(error: unknown): string {
  return error instanceof Error ? error.message : String(error)
}

serve().catch((error: unknown) => {
  post({ kind: 'unavailable', why: sentence(error) })
})
