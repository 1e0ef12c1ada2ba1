import './lists.css'
import { Plus } from 'lucide-react'
import { useState } from 'react'
import type { KeptBoard } from '../../main/contract/dogs-and-boards.ts'
import { CompareFeel } from './compare-feel.tsx'
import { feelInWords, useFeels } from './board-feels.ts'
import { useRemove } from '../app/removals.tsx'
import { useSettings } from '../app/use-settings.ts'
import { useCall } from '../host/use-call.ts'
import { Answer } from '../look/answer.tsx'
import { Button } from '../look/button.tsx'
import { BoardDialog } from './board-dialog.tsx'
import { KeptList } from './kept-list.tsx'
import { lengthUnit, shownIn } from './lengths.ts'

/** The boards of the library. */
export function Boards() {
  const boards = useCall('boards.list', {})
  const counts = useCall('rides.count', {}).data?.boards ?? null
  const remove = useRemove('boards.remove')
  const { units } = useSettings().settings
  const unit = lengthUnit(units)
  const [open, setOpen] = useState<KeptBoard | 'new' | null>(null)

  const feels = useFeels()

  function about({ id, shape, note, isAssumed }: KeptBoard): string {
    const lengths =
      `${shownIn(unit, shape.lengthM)} long, ${shownIn(unit, shape.widthM)} wide, ` +
      `${shownIn(unit, shape.pivotHeightM)} high, zones of ${shownIn(unit, shape.contactM)}` +
      (shape.materialWord === undefined ? '' : `, ${shape.materialWord}`)
    const assumed = isAssumed === true ? 'Assumed, not measured' : ''
    const sizes = [lengths, feelInWords(feels.get(id))].filter((part) => part !== null).join(', ')
    return [sizes, assumed, note].filter((part) => part !== '').join('. ')
  }

  return (
    <div className="screen">
      <title>Boards, Tiphold</title>
      <div className="screen-head">
        <h1>Boards</h1>
        <Button look="primary" onPress={() => setOpen('new')}>
          <Plus aria-hidden="true" />
          New board
        </Button>
      </div>
      <Answer of={boards}>
        {(all) =>
          all.length === 0 ? (
            <p className="nothing">
              No boards yet. Every measure on the plank comes from the lengths of your board: start from a rule book,
              then check with a tape.
            </p>
          ) : (
            <>
              <KeptList
                what="board"
                items={all.map((board) => ({
                  id: board.id,
                  name: board.name,
                  about: about(board),
                  page: `/boards/${board.id}`,
                }))}
                counts={counts}
                onChange={(id) => setOpen(all.find((board) => board.id === id) ?? null)}
                onRemove={(id) => remove.mutate({ id })}
                removal="Rides measured on it stay as they are."
                failure={remove.error?.message ?? null}
              />
              <CompareFeel boards={all} />
            </>
          )
        }
      </Answer>
      {open === null ? null : <BoardDialog board={open === 'new' ? null : open} onClose={() => setOpen(null)} />}
    </div>
  )
}
