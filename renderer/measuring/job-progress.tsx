import { Square } from 'lucide-react'
import type { Job } from '../../main/contract/jobs.ts'
import { timeLeft } from '../app/time-left.ts'
import { useChange } from '../host/use-call.ts'
import { Button } from '../look/button.tsx'
import { Progress } from '../look/progress.tsx'

/** A job that runs or waits: what it does, how long it takes yet, and a way to stop it. */
export function JobProgress({ job }: { readonly job: Job }) {
  const stop = useChange('measuring.stop')
  const { state } = job
  if (state.kind !== 'running' && state.kind !== 'waiting') return null
  return (
    <div className="job-progress">
      {state.kind === 'waiting' ? (
        <Progress label={waitingWords(state.ahead)} shareDone={0} />
      ) : (
        <Progress
          label={state.doing}
          shareDone={state.framesTotal > 0 ? state.framesDone / state.framesTotal : null}
          note={timeLeft(state.leftS) ?? ''}
        />
      )}
      <Button isDisabled={stop.isPending} onPress={() => stop.mutate({ jobId: job.id })}>
        <Square aria-hidden="true" />
        Stop
      </Button>
    </div>
  )
}

function waitingWords(ahead: number): string {
  return ahead === 1 ? 'Waiting for the clip before it' : `Waiting for ${ahead} clips before it`
}
