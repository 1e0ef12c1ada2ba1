import { useState } from 'react'
import type { Job } from '../../main/contract/jobs.ts'
import { useCall, useJobs } from '../host/use-call.ts'
import { ButtonLink } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'
import { JobProgress } from '../measuring/job-progress.tsx'

/** Clips that are being measured or wait for it, and those whose measuring failed. Sample clips show it in their own place. */
export function RunningWork() {
  const jobs = useJobs()
  const clips = useCall('clips.list', {}).data ?? []
  const [openedAt] = useState(() => new Set(jobs.filter(isOver).map(({ id }) => id)))
  const shown = jobs
    .filter((job) => !isOver(job) || (job.state.kind === 'failed' && !openedAt.has(job.id)))
    .filter(({ clipId }) => clips.find(({ id }) => id === clipId)?.sample == null)
  if (shown.length === 0) return null
  return (
    <section aria-label="Being measured" className="stack">
      <h2>Being measured</h2>
      {shown.map((job) => {
        const clip = clips.find(({ id }) => id === job.clipId)
        const name = clip === undefined ? 'A clip' : clip.title === '' ? clip.fileName : clip.title
        return job.state.kind === 'failed' ? (
          <Notice
            key={job.id}
            tone="bad"
            actions={<ButtonLink to={`/clips/${job.clipId}/marking`}>To its marks</ButtonLink>}
          >
            <strong>{name}</strong>: {job.state.message}
          </Notice>
        ) : (
          <div key={job.id} className="card running">
            <strong>{name}</strong>
            <JobProgress job={job} />
          </div>
        )
      })}
    </section>
  )
}

function isOver({ state }: Job): boolean {
  return state.kind === 'done' || state.kind === 'stopped' || state.kind === 'failed'
}
