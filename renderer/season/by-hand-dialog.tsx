import { useState } from 'react'
import { Form } from 'react-aria-components'
import { leftEarlyOf, type NotedRide, notedRideInput } from '../../main/contract/noted-rides.ts'
import { NO_SESSION } from '../../main/contract/sessions.ts'
import { useCall, useChange } from '../host/use-call.ts'
import { Button } from '../look/button.tsx'
import { Choice } from '../look/choice.tsx'
import { Dialog } from '../look/dialog.tsx'
import { SelectField, TextField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'

export interface ByHandDialogProps {
  readonly dogId: string
  /** The ride to change; null to enter one. */
  readonly ride: NotedRide | null
  readonly onClose: () => void
}

const NONE = 'none'

/** Where a ride is entered that was not filmed. */
export function ByHandDialog({ dogId, ride, onClose }: ByHandDialogProps) {
  const keep = useChange('noted.keep')
  const boards = useCall('boards.list', {}).data ?? []
  const [day, setDay] = useState(ride?.session.day ?? '')
  const [boardId, setBoardId] = useState<string>(ride?.boardId ?? NONE)
  const [purpose, setPurpose] = useState<'training' | 'show'>(ride?.session.purpose ?? 'training')
  const [leftEarly, setLeftEarly] = useState(ride === null ? 'unknown' : leftEarlyOf(ride))
  const [note, setNote] = useState(ride?.note ?? '')
  const [refusal, setRefusal] = useState<string | null>(null)

  function submit(): void {
    const parsed = notedRideInput.safeParse({
      dogId,
      boardId: boardId === NONE ? null : boardId,
      session: { ...(ride?.session ?? NO_SESSION), day: day === '' ? null : day, purpose },
      leftEarly,
      note,
    })
    if (!parsed.success) return setRefusal('Write the day as 2026-05-14.')
    setRefusal(null)
    keep.mutate({ id: ride?.id ?? null, ride: parsed.data }, { onSuccess: onClose })
  }

  const failure = refusal ?? keep.error?.message ?? null
  return (
    <Dialog title={ride === null ? 'A ride that was not filmed' : 'Change this ride'} onClose={onClose}>
      <Form
        className="form"
        onSubmit={(event) => {
          event.preventDefault()
          submit()
        }}
      >
        <p className="soft">It is marked as entered by hand, and is in none of the measured numbers.</p>
        <div className="form-row">
          <TextField
            label="Day"
            type="date"
            placeholder="2026-05-14"
            value={day}
            onChange={setDay}
            isRequired
            autoFocus
          />
          <SelectField
            label="Board"
            options={[{ key: NONE, name: 'Not said' }, ...boards.map(({ id, name }) => ({ key: id, name }))]}
            selected={boardId}
            onSelect={setBoardId}
          />
        </div>
        <Choice
          label="Training or show"
          options={[
            { key: 'training', name: 'Training' },
            { key: 'show', name: 'Show' },
          ]}
          selected={purpose}
          onSelect={setPurpose}
        />
        <Choice
          label="Left before the board had landed?"
          options={[
            { key: 'yes', name: 'Yes' },
            { key: 'no', name: 'No' },
            { key: 'unknown', name: 'Not sure' },
          ]}
          selected={leftEarly}
          onSelect={setLeftEarly}
        />
        <TextField label="Note" lines="several" value={note} onChange={setNote} maxLength={4000} />
        {failure === null ? null : <Notice tone="bad">{failure}</Notice>}
        <div className="dialog-foot">
          <Button onPress={onClose}>Cancel</Button>
          <Button look="primary" type="submit" isDisabled={keep.isPending}>
            Save
          </Button>
        </div>
      </Form>
    </Dialog>
  )
}
