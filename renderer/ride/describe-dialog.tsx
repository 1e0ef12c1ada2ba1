import { useState } from 'react'
import { Form } from 'react-aria-components'
import type { RideCard } from '../../main/contract/rides.ts'
import { useChange } from '../host/use-call.ts'
import { Button } from '../look/button.tsx'
import { Dialog } from '../look/dialog.tsx'
import { TextField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'
import { DogChoice } from '../setup/dog-choice.tsx'

/** Where the handler says whose ride it was and what was special about it. */
export function DescribeDialog({ card, onClose }: { readonly card: RideCard; readonly onClose: () => void }) {
  const describe = useChange('rides.describe')
  const [title, setTitle] = useState(card.title)
  const [note, setNote] = useState(card.note)
  const [dogId, setDogId] = useState(card.dogId)
  return (
    <Dialog title="About this ride" onClose={onClose}>
      <Form
        className="form"
        onSubmit={(event) => {
          event.preventDefault()
          describe.mutate({ rideId: card.id, title, note, dogId }, { onSuccess: onClose })
        }}
      >
        <TextField
          label="Title"
          hint="For example: second run, windy."
          value={title}
          onChange={setTitle}
          maxLength={120}
          autoFocus
        />
        <DogChoice dogId={dogId} onChange={setDogId} />
        <TextField label="Note" lines="several" value={note} onChange={setNote} maxLength={4000} />
        {describe.error === null ? null : <Notice tone="bad">{describe.error.message}</Notice>}
        <div className="dialog-foot">
          <Button onPress={onClose}>Cancel</Button>
          <Button look="primary" type="submit" isDisabled={describe.isPending}>
            Save
          </Button>
        </div>
      </Form>
    </Dialog>
  )
}
