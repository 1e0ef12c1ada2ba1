import type { FromMeasuring, MeasuringOrder, ToMeasuring } from '../../main/services/measuring-messages.ts'
import { forkWorkerProcess, type StartWorkerProcess, type WorkerProcess } from '../../main/services/worker-process.ts'
import { type MeasuredClip, measuredOnce } from '../accuracy/measured-clips.ts'

/**
 * The program's own processes, but the same measurement is done once for all tests: the measuring process is only
 * started for what no test has measured before.
 */
export const measuringOnce: StartWorkerProcess = (entry) =>
  isMeasuring(entry)
    ? measuringBy((order, started) => measuredOnce(order, () => measured(entry, order, started)))
    : forkWorkerProcess(entry)

/** The program's own processes, but measuring goes on until it is stopped. */
export const measuringWithoutEnd: StartWorkerProcess = (entry) =>
  isMeasuring(entry) ? measuringBy(() => new Promise(() => undefined)) : forkWorkerProcess(entry)

function isMeasuring(entry: URL): boolean {
  return /measuring-process\.[jt]s$/.test(entry.pathname)
}

type Measure = (order: MeasuringOrder, started: (worker: WorkerProcess) => void) => Promise<MeasuredClip>

/** Speaks as the measuring process does. */
function measuringBy(measure: Measure): WorkerProcess {
  const listeners: ((message: unknown) => void)[] = []
  const ends: ((code: number | null) => void)[] = []
  let worker: WorkerProcess | null = null
  let isOver = false
  const tell = (message: FromMeasuring) => {
    if (!isOver) for (const listener of listeners) listener(message)
  }
  const end = (code: number | null) => {
    if (isOver) return
    isOver = true
    worker?.kill()
    // Told later, as the end of a process is.
    setImmediate(() => ends.forEach((listener) => listener(code)))
  }
  return {
    post(message) {
      const told = message as ToMeasuring
      if (told.kind === 'stop') return end(0)
      measure(told.order, (started) => (worker = started)).then(
        (outcome) => tell(messageOf(outcome)),
        () => end(1),
      )
    },
    onMessage: (listener) => void listeners.push(listener),
    onExit: (listener) => void ends.push(listener),
    kill: () => end(null),
  }
}

/** By the real process; rejects when it ends before it has measured. */
function measured(entry: URL, order: MeasuringOrder, started: (worker: WorkerProcess) => void): Promise<MeasuredClip> {
  const worker = forkWorkerProcess(entry)
  started(worker)
  return new Promise<MeasuredClip>((resolve, reject) => {
    worker.onExit((code) => reject(new Error(`The measuring process ended with ${code}.`)))
    worker.onMessage((message) => {
      const told = message as FromMeasuring
      if (told.kind === 'measured') resolve({ kind: 'rides', rides: told.rides })
      if (told.kind === 'dropped') resolve({ kind: 'drops', drops: told.drops })
      if (told.kind === 'failed') {
        const { message, looksLikeDropTest = false } = told
        resolve({ kind: 'failed', detail: message, looksLikeDropTest })
      }
    })
    worker.post({ kind: 'measure', order } satisfies ToMeasuring)
  }).finally(() => worker.kill())
}

function messageOf(outcome: MeasuredClip): FromMeasuring {
  if (outcome.kind === 'failed') {
    const { detail, looksLikeDropTest = false } = outcome
    return { kind: 'failed', message: detail, looksLikeDropTest }
  }
  if (outcome.kind === 'rides') return { kind: 'measured', rides: outcome.rides }
  const [drop, ...others] = outcome.drops
  if (drop === undefined) throw new Error('A drop test was measured without a drop.')
  return { kind: 'dropped', drops: [drop, ...others] }
}
