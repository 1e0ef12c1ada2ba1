import { Plus } from 'lucide-react'
import { useState } from 'react'
import { useSettings } from '../app/use-settings.ts'
import { useCall } from '../host/use-call.ts'
import { BoardDialog } from '../lists/board-dialog.tsx'
import { lengthUnit, shownIn } from '../lists/lengths.ts'
import { Button } from '../look/button.tsx'
import { SelectField } from '../look/fields.tsx'

export interface BoardChoiceProps {
  readonly boardId: string | null
  readonly onChange: (boardId: string) => void
}

/** Which board stands in the picture: one of the library, or a new one. */
export function BoardChoice({ boardId, onChange }: BoardChoiceProps) {
  const boards = useCall('boards.list', {}).data ?? []
  const unit = lengthUnit(useSettings().settings.units)
  const [isNew, setIsNew] = useState(false)
  const board = boards.find(({ id }) => id === boardId)
  const hint =
    board === undefined
      ? 'Its lengths turn pixels into centimetres.'
      : `${shownIn(unit, board.shape.lengthM)} long, ${shownIn(unit, board.shape.pivotHeightM)} high, zones of ${shownIn(unit, board.shape.contactM)}`
  return (
    <div className="choose-or-create">
      {boards.length === 0 ? (
        <div className="field">
          <span className="field-label">Board</span>
          <span className="field-hint">{hint}</span>
        </div>
      ) : (
        <SelectField
          label="Board"
          options={boards.map(({ id, name }) => ({ key: id, name }))}
          selected={board?.id ?? null}
          onSelect={onChange}
          placeholder="Choose the board"
          hint={hint}
        />
      )}
      <Button onPress={() => setIsNew(true)}>
        <Plus aria-hidden="true" />
        New board
      </Button>
      {isNew ? <BoardDialog board={null} onClose={() => setIsNew(false)} onKept={({ id }) => onChange(id)} /> : null}
    </div>
  )
}
