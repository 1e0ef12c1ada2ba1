import { Ellipsis, Trash2 } from 'lucide-react'
import { useState } from 'react'
import { Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import type { ClipCard } from '../../main/contract/clips.ts'
import type { Job } from '../../main/contract/jobs.ts'
import { useRemove } from '../app/removals.tsx'
import { useClient } from '../host/host-provider.tsx'
import { useCall, useChange, useJobs } from '../host/use-call.ts'
import { Button, ButtonLink, IconButton } from '../look/button.tsx'
import { Confirm } from '../look/dialog.tsx'
import { Notice } from '../look/notice.tsx'
import { FindAgain } from '../setup/find-again.tsx'
import { useSettleClip } from '../clip/use-kept-part.ts'

const NEXT: Readonly<Record<'to-set-up' | 'to-mark', { what: string; doIt: string; at: string }>> = {
  'to-set-up': { what: 'Choose dog and board', doIt: 'Set up', at: 'set-up' },
  'to-mark': { what: 'Mark the plank in the picture', doIt: 'Mark', at: 'marking' },
}

/** Clips that are not a ride yet, each with its next step. */
export function ClipsOnTheirWay() {
  const clips = useCall('clips.list', {}).data ?? []
  const jobs = useJobs()
  const [removing, setRemoving] = useState<ClipCard | null>(null)
  const remove = useRemove('clips.remove')
  const unfinished = clips.filter(
    ({ stage, sample }) => stage !== 'measured' && stage !== 'measuring' && sample === null,
  )
  if (unfinished.length === 0) return null
  return (
    <section aria-label="To do" className="stack">
      <h2>To do</h2>
      {remove.error === null ? null : <Notice tone="bad">{remove.error.message}</Notice>}
      <ul className="clip-list card">
        {unfinished.map((clip) => (
          <ClipLine
            key={clip.id}
            clip={clip}
            lastJob={jobs.findLast(({ clipId }) => clipId === clip.id) ?? null}
            onRemove={() => setRemoving(clip)}
          />
        ))}
      </ul>
      {removing === null ? null : (
        <Confirm
          title={`Remove ${nameOf(removing)}?`}
          doIt="Remove"
          onDoIt={() => remove.mutate({ clipId: removing.id })}
          onClose={() => setRemoving(null)}
        >
          Its marks are removed from Tiphold. Your own file stays where it is.
        </Confirm>
      )}
    </section>
  )
}

interface ClipLineProps {
  readonly clip: ClipCard
  readonly lastJob: Job | null
  readonly onRemove: () => void
}

function ClipLine({ clip, lastJob, onRemove }: ClipLineProps) {
  const { pictureAddress } = useClient()
  const { stage } = clip
  if (stage === 'measured' || stage === 'measuring') return null
  const next = stage === 'to-measure' ? null : NEXT[stage]
  const failure = lastJob?.state.kind === 'failed' ? lastJob.state.message : null
  return (
    <li>
      {clip.isMissing ? (
        <div className="clip-picture" />
      ) : (
        <img className="clip-picture" src={pictureAddress(clip.id, 0, 'small')} alt="" loading="lazy" />
      )}
      <div className="clip-words">
        <strong>{nameOf(clip)}</strong>
        <span className="soft small">
          {clip.isMissing
            ? 'The file has moved'
            : failure !== null
              ? `Not measured: ${failure}`
              : (next?.what ?? 'Ready to measure')}
        </span>
      </div>
      {clip.isMissing ? (
        <FindAgain clipId={clip.id} fileName={clip.fileName} />
      ) : next !== null ? (
        <ButtonLink to={`/clips/${clip.id}/${next.at}`}>{next.doIt}</ButtonLink>
      ) : (
        <MeasureNow clip={clip} isAgain={failure !== null} />
      )}
      <MenuTrigger>
        <IconButton label={`More for ${nameOf(clip)}`}>
          <Ellipsis aria-hidden="true" />
        </IconButton>
        <Popover placement="bottom end">
          <Menu>
            <MenuItem href={`#/clips/${clip.id}/set-up`}>Set-up</MenuItem>
            <MenuItem href={`#/clips/${clip.id}/marking`}>Marks</MenuItem>
            <MenuItem onAction={onRemove}>
              <Trash2 aria-hidden="true" />
              Remove
            </MenuItem>
          </Menu>
        </Popover>
      </MenuTrigger>
    </li>
  )
}

/** Measures a clip that is ready, from where it is listed. */
function MeasureNow({ clip, isAgain }: { readonly clip: ClipCard; readonly isAgain: boolean }) {
  const start = useChange('measuring.start')
  const settle = useSettleClip(clip.id)
  const [refusal, setRefusal] = useState<string | null>(null)
  async function measure(): Promise<void> {
    const settled = await settle()
    if (settled.kind === 'failed') setRefusal(settled.message)
    else start.mutate({ clipId: clip.id })
  }
  const failure = refusal ?? start.error?.message ?? null
  return (
    <>
      {failure === null ? null : <Notice tone="bad">{failure}</Notice>}
      <Button
        aria-label={`${isAgain ? 'Try again' : 'Measure'}: ${nameOf(clip)}`}
        isDisabled={start.isPending}
        onPress={() => void measure()}
      >
        {isAgain ? 'Try again' : 'Measure'}
      </Button>
    </>
  )
}

function nameOf({ title, fileName }: ClipCard): string {
  return title === '' ? fileName : title
}
