import { useState } from 'react'
import { Form } from 'react-aria-components'
import { BOARD_LIMITS } from '../../analysis/board/board-limits.ts'
import { TEST_WEIGHT_KG } from '../../analysis/drop/drop-test.ts'
import type { BuildPart } from '../../analysis/rules/build-check.ts'
import { type OwnRules, ownFrom, PART_NAMES } from '../../analysis/rules/own-rules.ts'
import { type DropPlace, type DropRule, RULE_SETS } from '../../analysis/rules/rule-sets.ts'
import { LONGEST_FALL_S, ownRules } from '../../main/contract/settings.ts'
import { useSettings } from '../app/use-settings.ts'
import { Button } from '../look/button.tsx'
import { Choice, Tick } from '../look/choice.tsx'
import { Dialog } from '../look/dialog.tsx'
import { SelectField, TextField } from '../look/fields.tsx'
import { Notice } from '../look/notice.tsx'
import { NumberField } from '../look/number-field.tsx'
import { lengthUnit, massUnit } from '../lists/lengths.ts'
import { QuantityField } from '../lists/quantity-field.tsx'

export interface OwnRulesDialogProps {
  /** What to begin with. */
  readonly start: OwnRules
  readonly isNew: boolean
  readonly onSave: (own: OwnRules) => void
  readonly onRemove: () => void
  readonly onClose: () => void
}

const LENGTHS: readonly BuildPart[] = ['lengthM', 'widthM', 'pivotHeightM', 'contactM', 'axisBelowTopM']
/** What most rule books ask for: the test that a handler starts from who adds one. */
const USUAL_DROP: DropRule = {
  massKg: 1,
  where: { kind: 'middle-of-down-contact' },
  timedFrom: 'placed',
  leastS: 2,
  mostS: 3,
}

/** Where a handler enters a rule book that the program does not know, or a newer edition of one that it does. */
export function OwnRulesDialog({ start, isNew, onSave, onRemove, onClose }: OwnRulesDialogProps) {
  const unit = lengthUnit(useSettings().settings.units)
  const [own, setOwn] = useState(start)
  const [basis, setBasis] = useState<string | null>(null)
  const [fault, setFault] = useState<string | null>(null)
  const set = (changed: Partial<OwnRules>): void => setOwn((now) => ({ ...now, ...changed }))

  function submit(): void {
    const parsed = ownRules.safeParse(own)
    if (!parsed.success) {
      const [issue] = parsed.error.issues
      setFault(issue?.code === 'custom' ? issue.message : 'Give the rules a name, and check the figures.')
      return
    }
    onSave(parsed.data)
    onClose()
  }

  return (
    <Dialog title={isNew ? 'Your own rules' : 'Edit your own rules'} onClose={onClose}>
      <Form
        className="form"
        onSubmit={(event) => {
          event.preventDefault()
          submit()
        }}
      >
        <TextField
          label="Name"
          value={own.name}
          onChange={(name) => set({ name })}
          isRequired
          maxLength={40}
          autoFocus
        />
        <SelectField
          label="Copy the figures of"
          options={RULE_SETS}
          selected={basis}
          onSelect={(key) => {
            setBasis(key)
            const known = RULE_SETS.find((one) => one.key === key)
            if (known !== undefined) setOwn((now) => ownFrom(known, now.name))
          }}
          hint="Then change what your rule book says otherwise. Leave a field empty where it says nothing."
        />
        <fieldset className="form-part">
          <legend>The board</legend>
          {LENGTHS.map((part) => (
            <div key={part} className="form-row">
              <QuantityField
                label={`${PART_NAMES[part]} from`}
                unit={unit}
                value={own[part].minM}
                onChange={(minM) => set({ [part]: { ...own[part], minM } })}
                range={BOARD_LIMITS[part]}
              />
              <QuantityField
                label={`${PART_NAMES[part]} to`}
                unit={unit}
                value={own[part].maxM}
                onChange={(maxM) => set({ [part]: { ...own[part], maxM } })}
                range={BOARD_LIMITS[part]}
              />
            </div>
          ))}
        </fieldset>
        <DropFields drop={own.drop} onChange={(drop) => set({ drop })} />
        <fieldset className="form-part">
          <legend>The dog</legend>
          <Tick isSelected={own.downAfterLanding} onChange={(downAfterLanding) => set({ downAfterLanding })}>
            A paw in the down contact counts only once the board has landed
          </Tick>
          <Tick isSelected={own.refusalBeforeTip} onChange={(refusalBeforeTip) => set({ refusalBeforeTip })}>
            Leaving before the board tips is a refusal
          </Tick>
        </fieldset>
        {fault === null ? null : <Notice tone="bad">{fault}</Notice>}
        <div className="dialog-foot">
          {isNew ? null : (
            <Button
              onPress={() => {
                onRemove()
                onClose()
              }}
            >
              Remove
            </Button>
          )}
          <Button onPress={onClose}>Cancel</Button>
          <Button look="primary" type="submit">
            Save
          </Button>
        </div>
      </Form>
    </Dialog>
  )
}

interface DropFieldsProps {
  readonly drop: DropRule | null
  readonly onChange: (drop: DropRule | null) => void
}

const MIDDLE: DropPlace = { kind: 'middle-of-down-contact' }
/** 12 in, as one rule book has it: a start for typing. */
const FROM_END: DropPlace = { kind: 'from-exit-end', byM: 0.3048 }

function DropFields({ drop, onChange }: DropFieldsProps) {
  const { units } = useSettings().settings
  const set = (changed: Partial<DropRule>): void => onChange({ ...(drop ?? USUAL_DROP), ...changed })
  return (
    <fieldset className="form-part">
      <legend>The drop test</legend>
      <Tick isSelected={drop !== null} onChange={(isThere) => onChange(isThere ? USUAL_DROP : null)}>
        A drop test is prescribed
      </Tick>
      {drop === null ? null : (
        <>
          <Choice
            label="Where the weight lies"
            options={[
              { key: MIDDLE.kind, name: 'Middle of the down contact' },
              { key: FROM_END.kind, name: 'A distance from the raised end' },
            ]}
            selected={drop.where.kind === 'from-exit-end' ? FROM_END.kind : MIDDLE.kind}
            onSelect={(kind) => set({ where: kind === FROM_END.kind ? FROM_END : MIDDLE })}
          />
          <Choice
            label="The clock starts"
            options={[
              { key: 'placed', name: 'As the weight is put on' },
              { key: 'released', name: 'As the hand lets go' },
            ]}
            selected={drop.timedFrom === 'released' ? 'released' : 'placed'}
            onSelect={(timedFrom) => set({ timedFrom })}
          />
          <div className="form-row">
            <QuantityField
              label="Weight"
              unit={massUnit(units)}
              value={drop.massKg}
              onChange={(massKg) => set({ massKg: massKg ?? USUAL_DROP.massKg })}
              range={TEST_WEIGHT_KG}
              isRequired
            />
            {drop.where.kind === 'from-exit-end' ? (
              <QuantityField
                label="From the raised end"
                unit={lengthUnit(units)}
                value={drop.where.byM}
                onChange={(byM) => set({ where: byM === null ? FROM_END : { kind: FROM_END.kind, byM } })}
                range={{ min: 0, max: BOARD_LIMITS.contactM.max }}
                isRequired
              />
            ) : null}
            <NumberField
              label="Down in at least"
              unit="s"
              value={drop.leastS ?? NaN}
              onChange={(leastS) => set({ leastS: Number.isNaN(leastS) ? null : leastS })}
              least={0}
              most={LONGEST_FALL_S}
              decimals={2}
            />
            <NumberField
              label="At most"
              unit="s"
              value={drop.mostS}
              onChange={(mostS) => set({ mostS: Number.isNaN(mostS) ? USUAL_DROP.mostS : mostS })}
              least={0.1}
              most={LONGEST_FALL_S}
              decimals={2}
              isRequired
            />
          </div>
        </>
      )}
    </fieldset>
  )
}
