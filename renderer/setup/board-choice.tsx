import { Plus } from 'lucide-react'
import { useState } from 'react'
import { usualBoard } from '../../analysis/rules/rule-sets.ts'
import { useRuleSets } from '../app/use-rule-sets.ts'
import { useSettings } from '../app/use-settings.ts'
import { useCall, useChange } from '../host/use-call.ts'
import { BoardDialog } from '../lists/board-dialog.tsx'
import { lengthUnit, shownIn } from '../lists/lengths.ts'
import { Button } from '../look/button.tsx'
import { SelectField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'

export interface BoardChoiceProps {
  readonly boardId: string | null
  readonly onChange: (boardId: string) => void
}

/** Which board stands in the picture: one of the library, or a new one. */
export function BoardChoice({ boardId, onChange }: BoardChoiceProps) {
  const boards = useCall('boards.list', {}).data ?? []
  const unit = lengthUnit(useSettings().settings.units)
  const keep = useChange('boards.keep')
  const { all, chosen } = useRuleSets()
  const [isNew, setIsNew] = useState(false)
  const board = boards.find(({ id }) => id === boardId)
  const hint =
    board === undefined
      ? 'Its lengths turn pixels into centimetres.'
      : `${shownIn(unit, board.shape.lengthM)} long, ${shownIn(unit, board.shape.pivotHeightM)} high, zones of ${shownIn(unit, board.shape.contactM)}${board.isAssumed === true ? '; assumed, not measured' : ''}`

  function assume(): void {
    const assumed = {
      name: 'Usual board',
      shape: usualBoard(chosen ?? all[0]!),
      note: '',
      isAssumed: true,
    } as const
    keep.mutate({ id: null, board: assumed }, { onSuccess: ({ id }) => onChange(id) })
  }
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
      {board !== undefined || boards.some(({ isAssumed }) => isAssumed) ? null : (
        <p className="no-tape soft small">
          No tape at hand?{' '}
          <Button look="quiet" onPress={assume} isDisabled={keep.isPending}>
            Use a usual board for now
          </Button>
        </p>
      )}
      {keep.error === null ? null : <Notice tone="bad">{keep.error.message}</Notice>}
      {isNew ? <BoardDialog board={null} onClose={() => setIsNew(false)} onKept={({ id }) => onChange(id)} /> : null}
    </div>
  )
}
