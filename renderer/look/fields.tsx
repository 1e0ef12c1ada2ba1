import { ChevronDown } from 'lucide-react'
import type { ReactNode } from 'react'
import {
  Button,
  FieldError,
  Input,
  Label,
  ListBox,
  ListBoxItem,
  Popover,
  Select,
  SelectValue,
  Text,
  TextArea,
  TextField as AriaTextField,
  type TextFieldProps as AriaTextFieldProps,
} from 'react-aria-components'

interface Explained {
  readonly label: string
  /** A sentence below the field. */
  readonly hint?: ReactNode
}

export function Hint({ hint }: Pick<Explained, 'hint'>) {
  if (hint === undefined) return null
  return (
    <Text slot="description" className="field-hint">
      {hint}
    </Text>
  )
}

export interface TextFieldProps extends Omit<AriaTextFieldProps, 'className' | 'style' | 'children'>, Explained {
  readonly placeholder?: string
  readonly lines?: 'one' | 'several'
}

export function TextField({ label, hint, placeholder, lines = 'one', ...props }: TextFieldProps) {
  const shown = placeholder === undefined ? {} : { placeholder }
  return (
    <AriaTextField {...props} className="field">
      <Label>{label}</Label>
      {lines === 'one' ? <Input {...shown} /> : <TextArea rows={3} {...shown} />}
      <Hint hint={hint} />
      <FieldError />
    </AriaTextField>
  )
}

export interface Option<Key extends string> {
  readonly key: Key
  readonly name: string
}

export interface SelectFieldProps<Key extends string> extends Explained {
  readonly options: readonly Option<Key>[]
  readonly selected: Key | null
  readonly onSelect: (key: Key) => void
  readonly placeholder?: string
}

export function SelectField<Key extends string>(props: SelectFieldProps<Key>) {
  const { label, hint, options, selected, onSelect, placeholder = 'Choose' } = props
  return (
    <Select
      className="field"
      value={selected}
      onChange={(key) => {
        const option = options.find((one) => one.key === key)
        if (option !== undefined) onSelect(option.key)
      }}
      placeholder={placeholder}
    >
      <Label>{label}</Label>
      <Button className="select-button">
        <SelectValue />
        <ChevronDown aria-hidden="true" />
      </Button>
      <Hint hint={hint} />
      <Popover>
        <ListBox items={options}>
          {(option) => (
            <ListBoxItem id={option.key} textValue={option.name}>
              {option.name}
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </Select>
  )
}
