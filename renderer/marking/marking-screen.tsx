import './marking.css'
import { useCall } from '../host/use-call.ts'
import { Answer } from '../look/answer.tsx'
import { ButtonLink } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'
import { FindAgain } from '../setup/find-again.tsx'
import { MarkingTable } from './marking-table.tsx'

/** Where the plank is marked in the picture. */
export function MarkingScreen({ clipId }: { readonly clipId: string }) {
  const clip = useCall('clips.get', { clipId })
  const boards = useCall('boards.list', {})
  if (clip.data === undefined || boards.data === undefined) {
    return (
      <div className="screen">
        <title>Marking, Tiphold</title>
        <Answer of={clip}>{() => <Answer of={boards}>{() => null}</Answer>}</Answer>
      </div>
    )
  }
  const { card, setup } = clip.data
  const board = boards.data.find(({ id }) => id === setup.boardId)
  if (card.isMissing || board === undefined) {
    return (
      <div className="screen">
        <title>Marking, Tiphold</title>
        {card.isMissing ? (
          <Notice tone="bad" actions={<FindAgain clipId={card.id} fileName={card.fileName} />}>
            {card.fileName} has moved. Show where it is now; the marks are saved.
          </Notice>
        ) : (
          <Notice tone="unsure" actions={<ButtonLink to={`/clips/${card.id}/set-up`}>Go to set-up</ButtonLink>}>
            Choose the board first: its lengths turn pixels into centimetres.
          </Notice>
        )}
      </div>
    )
  }
  return <MarkingTable clip={clip.data} board={board.shape} />
}
