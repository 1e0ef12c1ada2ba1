import type { Fit } from './fit.ts'
import type { FitAnswer, FitQuestion } from './fit-worker.ts'

/** What a desk needs of a worker. */
export type FitWorker = Pick<Worker, 'postMessage' | 'terminate' | 'onmessage' | 'onerror' | 'onmessageerror'>

/** Asks for fits beside the window, one at a time, always of the newest marks. */
export interface FitDesk {
  ask(question: FitQuestion | null): void
  close(): void
}

export const BROKEN_FIT: Fit = {
  kind: 'impossible',
  reason: 'The fit failed. Undo the last change, or move the point.',
  point: null,
}

/**
 * While a point is dragged the worker is asked again as soon as it has answered. One that breaks is replaced, and its
 * question answered as one that has no fit.
 */
export function openFitDesk(startWorker: () => FitWorker, onFit: (fit: Fit) => void): FitDesk {
  let worker: FitWorker | null = null
  let asked: FitQuestion | null = null
  let newest: FitQuestion | null = null

  function start(): FitWorker {
    const started = startWorker()
    started.onmessage = ({ data }: MessageEvent<FitAnswer>) => answered(data.fit)
    const broken = (event: Event): void => {
      event.preventDefault()
      started.terminate()
      worker = null
      answered(BROKEN_FIT)
    }
    started.onerror = broken
    started.onmessageerror = broken
    return started
  }

  function answered(fit: Fit): void {
    const hasMore = newest !== asked
    asked = null
    onFit(fit)
    if (hasMore) send()
  }

  function send(): void {
    if (newest === null || asked !== null) return
    asked = newest
    worker ??= start()
    worker.postMessage(newest)
  }

  return {
    ask(question) {
      newest = question
      send()
    },
    close() {
      worker?.terminate()
      worker = null
    },
  }
}
