import { CopyCheck } from 'lucide-react'
import type { ClipCard, ClipSetup } from '../../main/contract/clips.ts'
import { useCall } from '../host/use-call.ts'
import { Button } from '../look/button.tsx'

export interface SameAsBeforeProps {
  readonly clipId: string
  readonly onUse: (changed: Pick<ClipSetup, 'travel' | 'dogId' | 'boardId'>) => void
}

/** For a row of clips: direction, dog and board as in the clip that was set up before this one. */
export function SameAsBefore({ clipId, onUse }: SameAsBeforeProps) {
  const clips = useCall('clips.list', {}).data ?? []
  const before = clips.find((clip) => clip.id !== clipId && isSetUp(clip))
  if (before === undefined) return null
  return <Offer key={before.id} before={before} onUse={onUse} />
}

function isSetUp({ stage, sample, boardName }: ClipCard): boolean {
  return sample === null && stage !== 'to-set-up' && boardName !== null
}

function Offer({ before, onUse }: { readonly before: ClipCard } & Pick<SameAsBeforeProps, 'onUse'>) {
  const clip = useCall('clips.get', { clipId: before.id }).data
  if (clip === undefined) return null
  const { travel, dogId, boardId } = clip.setup
  const what = [
    before.dogName,
    before.boardName,
    travel === null ? null : travel === 'to-right' ? 'to the right' : 'to the left',
  ]
  return (
    <div className="same-as-before">
      <Button onPress={() => onUse({ travel, dogId, boardId })}>
        <CopyCheck aria-hidden="true" />
        Same as {before.title === '' ? before.fileName : before.title}
      </Button>
      <p className="soft small">{what.filter((part) => part !== null).join(', ')}</p>
    </div>
  )
}
