import type { Job } from '../../main/contract/jobs.ts'

/** The jobs with one job's newest state in the place of its last one, or at the end. */
export function withJob(jobs: readonly Job[], job: Job): readonly Job[] {
  return jobs.some(({ id }) => id === job.id)
    ? jobs.map((other) => (other.id === job.id ? job : other))
    : [...jobs, job]
}
