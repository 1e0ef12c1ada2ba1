import { Check } from 'lucide-react'
import type { ReactNode } from 'react'
import { Checkbox, Label, Radio, RadioGroup, Text } from 'react-aria-components'

export interface ChoiceProps<Key extends string> {
  readonly label: string
  readonly hint?: ReactNode
  readonly options: readonly { readonly key: Key; readonly name: string; readonly icon?: ReactNode }[]
  readonly selected: Key | null
  readonly onSelect: (key: Key) => void
}

/** One of a few, side by side. */
export function Choice<Key extends string>({ label, hint, options, selected, onSelect }: ChoiceProps<Key>) {
  return (
    <RadioGroup
      className="choice"
      orientation="horizontal"
      value={selected}
      onChange={(key) => {
        const option = options.find((one) => one.key === key)
        if (option !== undefined) onSelect(option.key)
      }}
    >
      <Label className="field-label">{label}</Label>
      <div className="choice-row">
        {options.map(({ key, name, icon }) => (
          <Radio key={key} value={key}>
            {icon}
            {name}
          </Radio>
        ))}
      </div>
      {hint === undefined ? null : (
        <Text slot="description" className="field-hint">
          {hint}
        </Text>
      )}
    </RadioGroup>
  )
}

export interface TickProps {
  readonly isSelected: boolean
  readonly onChange: (isSelected: boolean) => void
  readonly children: ReactNode
}

/** Yes or no. */
export function Tick({ children, ...props }: TickProps) {
  return (
    <Checkbox {...props} className="tick">
      <span className="box" aria-hidden="true">
        <Check strokeWidth={3} />
      </span>
      <span>{children}</span>
    </Checkbox>
  )
}
