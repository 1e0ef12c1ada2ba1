import { useCall, useJobs } from '../host/use-call.ts'
import { JobProgress } from '../measuring/job-progress.tsx'

/** Clips that are being measured or wait for it. Sample clips show it in their own place. */
export function RunningWork() {
  const clips = useCall('clips.list', {}).data ?? []
  const shown = useJobs()
    .filter(({ state }) => state.kind === 'running' || state.kind === 'waiting')
    .filter(({ clipId }) => clips.find(({ id }) => id === clipId)?.sample == null)
  if (shown.length === 0) return null
  return (
    <section aria-label="Being measured" className="stack">
      <h2>Being measured</h2>
      {shown.map((job) => {
        const clip = clips.find(({ id }) => id === job.clipId)
        const name = clip === undefined ? 'A clip' : clip.title === '' ? clip.fileName : clip.title
        return (
          <div key={job.id} className="card running">
            <strong>{name}</strong>
            <JobProgress job={job} />
          </div>
        )
      })}
    </section>
  )
}
