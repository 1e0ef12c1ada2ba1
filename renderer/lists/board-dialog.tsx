import { useState } from 'react'
import { Disclosure, DisclosurePanel, Button as AriaButton, Form, Heading } from 'react-aria-components'
import { ChevronRight } from 'lucide-react'
import { usualBoard } from '../../analysis/rules/rule-sets.ts'
import { buildSourceInWords } from '../../analysis/rules/rule-words.ts'
import { BOARD_LIMITS } from '../../analysis/board/board-limits.ts'
import { boardInput, type BoardInput, type KeptBoard } from '../../main/contract/dogs-and-boards.ts'
import { useRuleSets } from '../app/use-rule-sets.ts'
import { useSettings } from '../app/use-settings.ts'
import { useChange } from '../host/use-call.ts'
import { Button } from '../look/button.tsx'
import { Tick } from '../look/choice.tsx'
import { Dialog } from '../look/dialog.tsx'
import { SelectField, TextField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'
import { BoardMeasures } from './board-measures.tsx'
import { lengthUnit, massUnit } from './lengths.ts'
import { QuantityField } from './quantity-field.tsx'

export interface BoardDialogProps {
  /** The board to change; null to create one. */
  readonly board: KeptBoard | null
  readonly onClose: () => void
  readonly onKept?: (board: KeptBoard) => void
}

type Shape = { readonly [Name in keyof BoardInput['shape']]?: BoardInput['shape'][Name] | null }

/** Where a board's lengths are entered, from a rule book or the handler's own tape. */
export function BoardDialog({ board, onClose, onKept }: BoardDialogProps) {
  const keep = useChange('boards.keep')
  const { units } = useSettings().settings
  const { all, chosen } = useRuleSets()
  const length = lengthUnit(units)
  const mass = massUnit(units)
  const first = chosen ?? all[0]!
  const [name, setName] = useState(board?.name ?? '')
  const [note, setNote] = useState(board?.note ?? '')
  const [shape, setShape] = useState<Shape>(board?.shape ?? usualBoard(first))
  const wasAssumed = board?.isAssumed === true
  const [isMeasured, setIsMeasured] = useState(false)
  const [presetKey, setPresetKey] = useState<string | null>(board === null ? first.key : null)
  const rules = all.find(({ key }) => key === presetKey) ?? null
  const set = (changed: Shape): void => setShape((now) => ({ ...now, ...changed }))
  const [refusal, setRefusal] = useState<string | null>(null)

  function submit(): void {
    const entered = Object.fromEntries(Object.entries(shape).filter(([, value]) => value != null && value !== ''))
    const parsed = boardInput.safeParse({
      name,
      shape: entered,
      note,
      ...(wasAssumed && !isMeasured ? { isAssumed: true } : {}),
    })
    if (!parsed.success) {
      setRefusal('Give the board a name and its four lengths.')
      return
    }
    setRefusal(null)
    keep.mutate(
      { id: board?.id ?? null, board: parsed.data },
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
    <Dialog title={board === null ? 'New board' : 'Edit board'} onClose={onClose}>
      <Form
        className="form"
        onSubmit={(event) => {
          event.preventDefault()
          submit()
        }}
      >
        <TextField
          label="Name"
          value={name}
          onChange={setName}
          placeholder="Club aluminium"
          isRequired
          maxLength={80}
          autoFocus
        />
        <SelectField
          label="Start from a rule book"
          options={all}
          selected={presetKey}
          onSelect={(key) => {
            setPresetKey(key)
            const next = all.find((one) => one.key === key)
            if (next !== undefined) set(usualBoard(next))
          }}
          placeholder="None"
          hint={rules === null ? MEASURE_YOURS : `${buildSourceInWords(rules)} ${MEASURE_YOURS}`}
        />
        <BoardMeasures shape={shape} />
        <div className="form-row">
          <QuantityField
            label="Length (a)"
            unit={length}
            value={shape.lengthM ?? null}
            onChange={(lengthM) => set({ lengthM })}
            range={BOARD_LIMITS.lengthM}
            isRequired
          />
          <QuantityField
            label="Width"
            unit={length}
            value={shape.widthM ?? null}
            onChange={(widthM) => set({ widthM })}
            range={BOARD_LIMITS.widthM}
            isRequired
          />
          <QuantityField
            label="Height (b)"
            unit={length}
            value={shape.pivotHeightM ?? null}
            onChange={(pivotHeightM) => set({ pivotHeightM })}
            range={BOARD_LIMITS.pivotHeightM}
            isRequired
          />
          <QuantityField
            label="Zone (c)"
            unit={length}
            value={shape.contactM ?? null}
            onChange={(contactM) => set({ contactM })}
            range={BOARD_LIMITS.contactM}
            isRequired
          />
        </div>
        {wasAssumed ? (
          <Tick isSelected={isMeasured} onChange={setIsMeasured}>
            I have measured these lengths
          </Tick>
        ) : null}
        <Disclosure className="more" defaultExpanded={board !== null && hasExtras(board)}>
          <Heading level={3}>
            <AriaButton slot="trigger">
              <ChevronRight aria-hidden="true" />
              More detail: thickness, axis, mass
            </AriaButton>
          </Heading>
          <DisclosurePanel>
            <div className="form">
              <p className="soft small">
                Optional, but it makes the numbers more exact. Thickness (d): top face to bottom face at the end, rubber
                included. Axis (e): top face down to the middle of the bolt that the plank turns on.
              </p>
              <div className="form-row">
                <QuantityField
                  label="Thickness (d)"
                  unit={length}
                  value={shape.thicknessM ?? null}
                  onChange={(thicknessM) => set({ thicknessM })}
                  range={BOARD_LIMITS.thicknessM}
                />
                <QuantityField
                  label="Axis (e)"
                  unit={length}
                  value={shape.axisBelowTopM ?? null}
                  onChange={(axisBelowTopM) => set({ axisBelowTopM })}
                  range={BOARD_LIMITS.axisBelowTopM}
                />
                <QuantityField
                  label="Mass of the plank"
                  unit={mass}
                  value={shape.massKg ?? null}
                  onChange={(massKg) => set({ massKg })}
                  range={BOARD_LIMITS.massKg}
                />
                <TextField
                  label="Material"
                  value={shape.materialWord ?? ''}
                  onChange={(materialWord) => set({ materialWord })}
                  maxLength={40}
                />
              </div>
              <TextField label="Note" lines="several" value={note} onChange={setNote} maxLength={2000} />
            </div>
          </DisclosurePanel>
        </Disclosure>
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

const MEASURE_YOURS = 'Better: measure your own board with a tape.'

function hasExtras({ shape, note }: KeptBoard): boolean {
  return (
    shape.thicknessM !== undefined || shape.axisBelowTopM !== undefined || shape.massKg !== undefined || note !== ''
  )
}
