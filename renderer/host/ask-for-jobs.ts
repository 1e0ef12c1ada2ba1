import type { Client } from '../../main/contract/calls.ts'
import type { Job } from '../../main/contract/jobs.ts'
import { withJob } from './jobs-in-order.ts'
import { valueOrThrow } from './problem-error.ts'

/**
 * All jobs in their newest states: what the host tells while its answer is on the way may be newer than the answer, and
 * the end of a job is told only once.
 */
export async function askForJobs(client: Client): Promise<readonly Job[]> {
  const told: Job[] = []
  const stop = client.listen((happening) => {
    if (happening.kind === 'job') told.push(happening.job)
  })
  try {
    const answered = valueOrThrow(await client.call('measuring.jobs', {}))
    return told.reduce(withJob, answered)
  } finally {
    stop()
  }
}
