import { useQueryClient } from '@tanstack/react-query'
import { FolderPen, Trash2 } from 'lucide-react'
import { useState } from 'react'
import { useNavigate } from 'react-router'
import type { ReviewItem } from '../../analysis/review/review-item.ts'
import type { PackDetail, ReviewSelf } from '../../main/contract/review.ts'
import { useSettings } from '../app/use-settings.ts'
import { useRemove } from '../app/removals.tsx'
import { useCall, useChange } from '../host/use-call.ts'
import { Answer } from '../look/answer.tsx'
import { Button, IconButton } from '../look/button.tsx'
import { Dialog } from '../look/dialog.tsx'
import { TextField } from '../look/fields.tsx'
import { packName } from '../../analysis/review/pack-name.ts'
import { ReviewDesk } from '../review/review-desk.tsx'
import { ExportProgress } from '../share/export-progress.tsx'
import { useExport } from '../share/use-export.ts'
import { useClipFrames } from '../viewer/use-clip-frames.ts'

/** A ride that a student sent. */
export function PackScreen({ packId }: { readonly packId: string }) {
  const pack = useCall('packs.get', { packId })
  const self = useCall('reviews.self', {})
  return (
    <Answer of={pack}>
      {(detail) => <Answer of={self}>{(who) => <OpenPack detail={detail} self={who} />}</Answer>}
    </Answer>
  )
}

function OpenPack({ detail, self }: { readonly detail: PackDetail; readonly self: ReviewSelf }) {
  const { card } = detail
  const { settings } = useSettings()
  const answers = useQueryClient()
  const review = useChange('packs.review')
  const setName = useChange('reviews.setName')
  const exporting = useExport(() => true)
  const [typed, setTyped] = useState(self.name)
  const loadFrame = useClipFrames(card.id, detail.film.picture.frameIndex)
  const author = { id: self.authorId, name: typed.trim() }
  const put = (item: ReviewItem): void => {
    review.mutate(
      { packId: card.id, items: [item] },
      { onSuccess: (now) => answers.setQueryData(['packs.get', { packId: card.id }], now) },
    )
  }
  const keepName = (): void => {
    if (author.name === self.name) return
    setName.mutate({ name: author.name }, { onSuccess: (now) => answers.setQueryData(['reviews.self', {}], now) })
  }
  return (
    <>
      <title>{`${packName(card)}, Tiphold`}</title>
      <ReviewDesk
        detail={detail}
        author={author}
        units={settings.units}
        loadFrame={loadFrame}
        isReady
        onItem={put}
        head={
          <>
            <h1>
              <bdi>{packName(card)}</bdi>
            </h1>
            <span className="soft">
              from <bdi>{card.handlerName}</bdi>
            </span>
            <Filing detail={detail} />
          </>
        }
        doing={
          <>
            <TextField label="Your name" value={typed} onChange={setTyped} onBlur={keepName} maxLength={80} />
            <Button
              look="primary"
              isDisabled={author.name === '' || exporting.now?.state.kind === 'running'}
              onPress={() => exporting.start({ what: 'reply', packId: card.id })}
            >
              Save the reply
            </Button>
            {author.name === '' ? <span className="soft small">Write your name first.</span> : null}
            <ExportProgress exporting={exporting} />
            {review.error === null ? null : <span role="alert">{review.error.message}</span>}
          </>
        }
      />
    </>
  )
}

/** Into another folder, or away. */
function Filing({ detail: { card } }: { readonly detail: PackDetail }) {
  const navigate = useNavigate()
  const file = useChange('packs.file')
  const remove = useRemove('packs.remove')
  const [student, setStudent] = useState<string | null>(null)
  return (
    <>
      <IconButton label="Move to another folder" onPress={() => setStudent(card.student)}>
        <FolderPen aria-hidden="true" />
      </IconButton>
      <IconButton
        label="Remove this pack"
        onPress={() =>
          remove.mutate({ packId: card.id }, { onSuccess: () => void navigate('/packs', { replace: true }) })
        }
      >
        <Trash2 aria-hidden="true" />
      </IconButton>
      {student === null ? null : (
        <Dialog title="Folder of this pack" onClose={() => setStudent(null)}>
          <TextField label="Student" value={student} onChange={setStudent} maxLength={80} autoFocus />
          <div className="dialog-foot">
            <Button onPress={() => setStudent(null)}>Cancel</Button>
            <Button
              look="primary"
              isDisabled={student.trim() === ''}
              onPress={() =>
                file.mutate({ packId: card.id, student: student.trim() }, { onSuccess: () => setStudent(null) })
              }
            >
              Save
            </Button>
          </div>
        </Dialog>
      )}
    </>
  )
}
