import { ArrowRight } from 'lucide-react'
import { useEffect, useState } from 'react'
import { useNavigate } from 'react-router'
import type { SampleCard } from '../../main/contract/calls.ts'
import { useCall, useChange, useJobs } from '../host/use-call.ts'
import { Answer } from '../look/answer.tsx'
import { Button, ButtonLink } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'
import { JobProgress } from '../measuring/job-progress.tsx'

/** Clips that come with the program, ready to be looked at. */
export function SampleRides() {
  const samples = useCall('samples.list', {})
  return (
    <section aria-label="Sample rides" className="stack">
      <h2>Sample rides</h2>
      <p className="soft">Drawn, not filmed: invented dogs whose true times are known. Try everything on them.</p>
      <Answer of={samples}>
        {(all) => (
          <ul className="sample-list">
            {all.map((sample) => (
              <SampleLine key={sample.name} sample={sample} />
            ))}
          </ul>
        )}
      </Answer>
    </section>
  )
}

function SampleLine({ sample }: { readonly sample: SampleCard }) {
  const navigate = useNavigate()
  const takeIn = useChange('samples.takeIn')
  const start = useChange('measuring.start')
  const [jobId, setJobId] = useState<string | null>(null)
  const jobs = useJobs()
  const job = jobs.find(({ id }) => id === jobId)
  const atWork = jobs.find(
    ({ clipId, state }) => clipId === sample.clipId && (state.kind === 'running' || state.kind === 'waiting'),
  )
  const rideId = job?.state.kind === 'done' ? job.state.rideIds[0] : undefined
  useEffect(() => {
    if (rideId !== undefined) void navigate(`/rides/${rideId}`)
  }, [navigate, rideId])

  async function open(): Promise<void> {
    const { card } = await takeIn.mutateAsync({ name: sample.name })
    const [ready] = card.rideIds
    if (ready !== undefined) {
      void navigate(`/rides/${ready}`)
      return
    }
    setJobId((await start.mutateAsync({ clipId: card.id })).id)
  }

  const isOpening = takeIn.isPending || start.isPending
  const failure =
    takeIn.error?.message ?? start.error?.message ?? (job?.state.kind === 'failed' ? job.state.message : null)
  return (
    <li className="card">
      <div className="sample-words">
        <strong>{sample.title}</strong>
        <span className="soft small">{sample.about}</span>
      </div>
      {sample.rideId === null ? (
        <Button
          aria-label={`Open ${sample.title}`}
          isDisabled={isOpening || atWork !== undefined}
          // A failure is shown below.
          onPress={() => void open().catch(() => undefined)}
        >
          Open
        </Button>
      ) : (
        <ButtonLink to={`/rides/${sample.rideId}`} aria-label={`Open ${sample.title}`}>
          Open
          <ArrowRight aria-hidden="true" />
        </ButtonLink>
      )}
      {atWork === undefined ? null : <JobProgress job={atWork} />}
      {failure === null ? null : <Notice tone="bad">{failure}</Notice>}
    </li>
  )
}
