import { Ellipsis, Trash2 } from 'lucide-react'
import { useState } from 'react'
import { Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import type { ClipCard, ClipStage } from '../../main/contract/clips.ts'
import { useClient } from '../host/host-provider.tsx'
import { useCall, useChange } from '../host/use-call.ts'
import { ButtonLink, IconButton } from '../look/button.tsx'
import { Confirm } from '../look/dialog.tsx'
import { Notice } from '../look/notice.tsx'
import { FindAgain } from '../setup/find-again.tsx'

const NEXT: Readonly<Record<Exclude<ClipStage, 'measured' | 'measuring'>, { what: string; doIt: string; at: string }>> =
  {
    'to-set-up': { what: 'Say which dog, which board and which stretch', doIt: 'Set up', at: 'set-up' },
    'to-mark': { what: 'Mark the plank in the picture', doIt: 'Mark', at: 'marking' },
    'to-measure': { what: 'Ready to be measured', doIt: 'Measure', at: 'marking' },
  }

/** Clips that are not a ride yet, each with its next step. */
export function ClipsOnTheirWay() {
  const clips = useCall('clips.list', {}).data ?? []
  const [removing, setRemoving] = useState<ClipCard | null>(null)
  const remove = useChange('clips.remove')
  const unfinished = clips.filter(
    ({ stage, sample }) => stage !== 'measured' && stage !== 'measuring' && sample === null,
  )
  if (unfinished.length === 0) return null
  return (
    <section aria-label="On their way" className="stack">
      <h2>On their way</h2>
      {remove.error === null ? null : <Notice tone="bad">{remove.error.message}</Notice>}
      <ul className="clip-list card">
        {unfinished.map((clip) => (
          <ClipLine key={clip.id} clip={clip} onRemove={() => setRemoving(clip)} />
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

function ClipLine({ clip, onRemove }: { readonly clip: ClipCard; readonly onRemove: () => void }) {
  const { pictureAddress } = useClient()
  if (clip.stage === 'measured' || clip.stage === 'measuring') return null
  const next = NEXT[clip.stage]
  return (
    <li>
      {clip.isMissing ? (
        <div className="clip-picture" />
      ) : (
        <img className="clip-picture" src={pictureAddress(clip.id, 0, 'small')} alt="" loading="lazy" />
      )}
      <div className="clip-words">
        <strong>{nameOf(clip)}</strong>
        <span className="soft small">{clip.isMissing ? 'The file is no longer where it was' : next.what}</span>
      </div>
      {clip.isMissing ? (
        <FindAgain clipId={clip.id} fileName={clip.fileName} />
      ) : (
        <ButtonLink to={`/clips/${clip.id}/${next.at}`}>{next.doIt}</ButtonLink>
      )}
      <MenuTrigger>
        <IconButton label={`More for ${nameOf(clip)}`}>
          <Ellipsis aria-hidden="true" />
        </IconButton>
        <Popover placement="bottom end">
          <Menu>
            <MenuItem href={`#/clips/${clip.id}/set-up`}>Set-up</MenuItem>
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

function nameOf({ title, fileName }: ClipCard): string {
  return title === '' ? fileName : title
}
