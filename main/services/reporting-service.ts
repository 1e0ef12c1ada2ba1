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

/** Answers that are remembered: the same rides give the same numbers. */
const KEPT = 12
const ENTRY = new URL(`./reporting-process.${import.meta.url.endsWith('.ts') ? 'ts' : 'js'}`, import.meta.url)

export function reportingService(startWorkerProcess: StartWorkerProcess): ReportingService {
  const answers = new Map<string, Promise<FromReporting>>()
  const running = new Set<WorkerProcess>()

  function answerTo(order: ToReporting): Promise<FromReporting> {
    return new Promise((resolve) => {
      const worker = startWorkerProcess(ENTRY)
      running.add(worker)
      worker.onMessage((message) => {
        resolve(message as FromReporting)
        worker.kill()
      })
      worker.onExit(() => {
        running.delete(worker)
        resolve({ kind: 'failed', message: 'This could not be worked out: try again.' })
      })
      worker.post(order)
    })
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
      for (const worker of running) worker.kill()
    },
  }
}
