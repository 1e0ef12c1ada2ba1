import { Square } from 'lucide-react'
import { useEffect, useState } from 'react'
import type { Job } from '../../main/contract/jobs.ts'
import { timeLeft } from '../app/time-left.ts'
import { useChange } from '../host/use-call.ts'
import { Button } from '../look/button.tsx'
import { Progress } from '../look/progress.tsx'

/** A job that runs or waits: what it does, how long it takes yet, and a way to stop it. */
export function JobProgress({ job }: { readonly job: Job }) {
  const stop = useChange('measuring.stop')
  const isArmed = useArmed()
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
      <Button isDisabled={stop.isPending || !isArmed} onPress={() => stop.mutate({ jobId: job.id })}>
        <Square aria-hidden="true" />
        Stop
      </Button>
    </div>
  )
}

/** The second click of a double click on Measure must not stop what the first began, ms. */
const DOUBLE_CLICK_MS = 600

function useArmed(): boolean {
  const [isArmed, setIsArmed] = useState(false)
  useEffect(() => {
    const timer = setTimeout(() => setIsArmed(true), DOUBLE_CLICK_MS)
    return () => clearTimeout(timer)
  }, [])
  return isArmed
}

function waitingWords(ahead: number): string {
  return ahead === 1 ? 'Waiting for 1 clip' : `Waiting for ${ahead} clips`
}
