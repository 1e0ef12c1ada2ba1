import { createHash } from 'node:crypto'
import { problem, success, type Outcome } from '../contract/outcome.ts'
import type { FromReporting, ToReporting } from './reporting-messages.ts'
import type { StartWorkerProcess, WorkerProcess } from './worker-process.ts'

/** Works rides and boards out beside the process that answers the window. */
export interface ReportingService {
  ask<Kind extends ToReporting['kind']>(
    order: Extract<ToReporting, { kind: Kind }>,
  ): Promise<Outcome<Extract<FromReporting, { kind: Kind }>>>
  close(): void
}

/** A process and what it was asked last. */
interface Reporting {
  readonly worker: WorkerProcess
  answer: (reply: FromReporting) => void
}

/** A process that has answered is kept for the next question: starting one takes longer than most answers. */
class IdleProcess {
  #kept: { readonly reporting: Reporting; readonly end: NodeJS.Timeout } | null = null

  take(): Reporting | null {
    const kept = this.#kept
    if (kept === null) return null
    this.#kept = null
    clearTimeout(kept.end)
    return kept.reporting
  }

  keep(reporting: Reporting): void {
    reporting.answer = () => undefined
    this.take()?.worker.kill()
    const end = setTimeout(() => this.take()?.worker.kill(), KEPT_IDLE_MS)
    end.unref()
    this.#kept = { reporting, end }
  }

  forget(reporting: Reporting): void {
    if (this.#kept?.reporting === reporting) this.take()
  }
}

/** So long a process waits for the next question: one looks at a page and turns to the next. */
const KEPT_IDLE_MS = 60_000
/** Answers that are remembered: the same rides give the same numbers. */
const KEPT = 12
const ENTRY = new URL(`./reporting-process.${import.meta.url.endsWith('.ts') ? 'ts' : 'js'}`, import.meta.url)

export function reportingService(startWorkerProcess: StartWorkerProcess): ReportingService {
  const answers = new Map<string, Promise<FromReporting>>()
  const running = new Set<WorkerProcess>()
  const idle = new IdleProcess()

  /** One question at a time a process; one of them waits for the next. */
  function answerTo(order: ToReporting): Promise<FromReporting> {
    return new Promise((resolve) => {
      const asked = idle.take() ?? begun()
      asked.answer = (reply) => {
        resolve(reply)
        if (running.has(asked.worker)) idle.keep(asked)
      }
      asked.worker.post(order)
    })
  }

  function begun(): Reporting {
    const reporting: Reporting = { worker: startWorkerProcess(ENTRY), answer: () => undefined }
    running.add(reporting.worker)
    reporting.worker.onMessage((message) => reporting.answer(message as FromReporting))
    reporting.worker.onExit(() => {
      running.delete(reporting.worker)
      idle.forget(reporting)
      reporting.answer({ kind: 'failed', message: 'This could not be worked out: try again.' })
    })
    return reporting
  }

  return {
    async ask<Kind extends ToReporting['kind']>(order: Extract<ToReporting, { kind: Kind }>) {
      const key = createHash('sha256').update(JSON.stringify(order)).digest('hex')
      const begun = answers.get(key) ?? answerTo(order)
      // The newest comes last, so that the oldest goes first.
      answers.delete(key)
      answers.set(key, begun)
      for (const oldest of answers.keys()) {
        if (answers.size <= KEPT) break
        answers.delete(oldest)
      }
      const reply = await begun
      if (reply.kind !== 'failed') return success(reply as Extract<FromReporting, { kind: Kind }>)
      answers.delete(key)
      return problem('failed', reply.message)
    },
    close: () => {
      idle.take()
      for (const worker of running) worker.kill()
    },
  }
}
