import { useState } from 'react'
import { Form } from 'react-aria-components'
import { DOG_MASS_KG, WITHERS_M } from '../../analysis/dog/dog-limits.ts'
import { CRITERION_HOLD_S } from '../../analysis/progress/season.ts'
import { type Dog, dogInput } from '../../main/contract/dogs-and-boards.ts'
import { useSettings } from '../app/use-settings.ts'
import { useChange } from '../host/use-call.ts'
import { Button } from '../look/button.tsx'
import { Dialog } from '../look/dialog.tsx'
import { SelectField, TextField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'
import { NumberField } from '../look/number-field.tsx'
import { lengthUnit, massUnit } from './lengths.ts'
import { QuantityField } from './quantity-field.tsx'
import { isYoung } from './young-dog.ts'

const NONE = 'none'
type Position = NonNullable<Dog['criterion']>['position']
const POSITIONS = [
  { key: NONE, name: 'Not said' },
  { key: 'four-on', name: 'Four-on' },
  { key: '2o2o', name: 'Two-on-two-off' },
  { key: 'running', name: 'Running contact' },
] as const

export interface DogDialogProps {
  /** The dog to change; null to enter a new one. */
  readonly dog: Dog | null
  readonly onClose: () => void
  readonly onKept?: (dog: Dog) => void
}

/** Where a dog is entered; only its name is needed. */
export function DogDialog({ dog, onClose, onKept }: DogDialogProps) {
  const keep = useChange('dogs.keep')
  const { units } = useSettings().settings
  const [name, setName] = useState(dog?.name ?? '')
  const [withersM, setWithersM] = useState(dog?.withersM ?? null)
  const [massKg, setMassKg] = useState(dog?.massKg ?? null)
  const [bodyDay, setBodyDay] = useState(dog?.bodyDay ?? '')
  const [bornInMonth, setBornInMonth] = useState(dog?.bornInMonth ?? '')
  const [position, setPosition] = useState<Position | typeof NONE>(dog?.criterion?.position ?? NONE)
  const [holdAfterGroundS, setHoldAfterGroundS] = useState(dog?.criterion?.holdAfterGroundS ?? 0)
  const [note, setNote] = useState(dog?.note ?? '')
  const [refusal, setRefusal] = useState<string | null>(null)

  function submit(): void {
    const parsed = dogInput.safeParse({
      name,
      withersM,
      massKg,
      bodyDay: bodyDay === '' ? null : bodyDay,
      bornInMonth: bornInMonth === '' ? null : bornInMonth,
      criterion:
        position === NONE ? null : { position, holdAfterGroundS: position === 'running' ? 0 : holdAfterGroundS },
      note,
    })
    if (!parsed.success) {
      setRefusal(
        'Give the dog a name. Write days as 2026-05-14 and the month of birth as 2023-04, or leave them empty.',
      )
      return
    }
    setRefusal(null)
    keep.mutate(
      { id: dog?.id ?? null, dog: parsed.data },
      {
        onSuccess: (kept) => {
          onKept?.(kept)
          onClose()
        },
      },
    )
  }

  const failure = refusal ?? keep.error?.message ?? null
  return (
    <Dialog title={dog === null ? 'New dog' : 'Edit dog'} onClose={onClose}>
      <Form
        className="form"
        onSubmit={(event) => {
          event.preventDefault()
          submit()
        }}
      >
        <TextField label="Name" value={name} onChange={setName} isRequired maxLength={80} autoFocus />
        <div className="form-row">
          <QuantityField
            label="Height at the withers"
            unit={lengthUnit(units)}
            value={withersM}
            onChange={setWithersM}
            range={WITHERS_M}
          />
          <QuantityField
            label="Weight"
            unit={massUnit(units)}
            value={massKg}
            onChange={setMassKg}
            range={DOG_MASS_KG}
          />
          <TextField label="Measured on" type="date" placeholder="2026-05-14" value={bodyDay} onChange={setBodyDay} />
        </div>
        <div className="form-row">
          <TextField label="Born in" type="month" placeholder="2023-04" value={bornInMonth} onChange={setBornInMonth} />
          <SelectField label="Trained to" options={POSITIONS} selected={position} onSelect={setPosition} />
          {position === NONE || position === 'running' ? null : (
            <NumberField
              label="Held after the landing"
              unit="s"
              value={holdAfterGroundS}
              onChange={(value) => setHoldAfterGroundS(Number.isNaN(value) ? 0 : value)}
              least={CRITERION_HOLD_S.min}
              most={CRITERION_HOLD_S.max}
              decimals={1}
            />
          )}
        </div>
        {isYoung(bornInMonth, new Date()) ? (
          <Notice tone="unsure">
            A dog this young is still growing. Start it on a low board, and ask your coach before a full drop.
          </Notice>
        ) : null}
        <TextField label="Note" lines="several" value={note} onChange={setNote} maxLength={2000} />
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
