import { useEffect, useState } from 'react'
import { useNavigate } from 'react-router'
import { type ClipDetail, USUAL_WEIGHT } from '../../main/contract/clips.ts'
import { useChange, useJobs } from '../host/use-call.ts'
import { Button, ButtonLink } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'
import { useKeptPart, useSettleClip } from '../clip/use-kept-part.ts'
import { useClipRow } from '../clip/clip-row.ts'
import { JobProgress } from './job-progress.tsx'

export interface MeasureClipProps {
  readonly clip: ClipDetail
  readonly isReady: boolean
  /** The id of the words that say what is still missing. */
  readonly describedBy?: string
  /** Called when Measure is pressed, before anything is kept or begun. */
  readonly onMeasure?: () => void
}

/** Starts the measuring of a clip, shows how far it is, and goes on to the ride. */
export function MeasureClip({ clip, isReady, describedBy, onMeasure }: MeasureClipProps) {
  const { card } = clip
  const navigate = useNavigate()
  const start = useChange('measuring.start')
  const settle = useSettleClip(card.id)
  const row = useClipRow(card.id)
  const [startedId, setStartedId] = useState<string | null>(null)
  const ofClip = useJobs().filter(({ clipId }) => clipId === card.id)
  const active = ofClip.find(({ state }) => state.kind === 'running' || state.kind === 'waiting')
  const started = ofClip.find(({ id }) => id === startedId)
  const rideIds = started?.state.kind === 'done' ? started.state.rideIds : null
  const [firstRide] = rideIds ?? []
  const droppedOn = started?.state.kind === 'done' ? started.state.dropOnBoardId : undefined
  useEffect(() => {
    if (firstRide !== undefined) void navigate(`/rides/${firstRide}`)
    else if (droppedOn !== undefined) void navigate(`/boards/${droppedOn}`)
  }, [firstRide, droppedOn, navigate])

  const setup = useKeptPart(clip, 'setup')

  async function measureAsDropTest(): Promise<void> {
    setup.put({ ...setup.value, weight: USUAL_WEIGHT })
    await measure()
  }

  async function measure(): Promise<void> {
    onMeasure?.()
    // Nothing is measured by an older set-up than the one that is shown.
    if ((await settle()).kind === 'failed') return
    setStartedId((await start.mutateAsync({ clipId: card.id })).id)
    // In a row of clips the next one is marked while this one is measured.
    if (row.isRow) void navigate(row.next ?? '/')
  }

  if (active !== undefined) return <JobProgress job={active} />
  const [measuredRide] = card.rideIds
  return (
    <div className="measure">
      {start.error === null ? null : <Notice tone="bad">{start.error.message}</Notice>}
      {started?.state.kind !== 'failed' ? null : started.state.looksLikeDropTest === true ? (
        <Notice tone="unsure">
          <p>
            No dog was found, but a weight was laid on the board and it came down: this looks like a drop test. It is
            taken to be 1 kg in the middle of the down contact; the set-up can say otherwise.
          </p>
          <Button
            isDisabled={!isReady || start.isPending}
            onPress={() => void measureAsDropTest().catch(() => undefined)}
          >
            Measure as a drop test
          </Button>
        </Notice>
      ) : (
        <Notice tone="bad">{started.state.message}</Notice>
      )}
      {started?.state.kind === 'stopped' ? <Notice>Stopped. The marks are saved.</Notice> : null}
      {rideIds?.length === 0 && droppedOn === undefined ? (
        <Notice tone="unsure">No ride was found in this clip: choose a longer part, or check the marks.</Notice>
      ) : null}
      <div className="measure-buttons">
        {measuredRide === undefined ? null : <ButtonLink to={`/rides/${measuredRide}`}>Go to the ride</ButtonLink>}
        {card.dropOnBoardId === undefined ? null : (
          <ButtonLink to={`/boards/${card.dropOnBoardId}`}>Go to the board</ButtonLink>
        )}
        <Button
          look="primary"
          isDisabled={!isReady || start.isPending}
          {...(describedBy === undefined ? {} : { 'aria-describedby': describedBy })}
          // A failure is shown above.
          onPress={() => void measure().catch(() => undefined)}
        >
          {card.stage === 'measured' ? 'Measure again' : 'Measure'}
        </Button>
      </div>
    </div>
  )
}
