import { Download } from 'lucide-react'
import { Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import { Button } from './button.tsx'
import { Notice } from './notice.tsx'

export interface SaveAsProps<Format extends string> {
  readonly formats: readonly { readonly format: Format; readonly name: string }[]
  readonly onSave: (format: Format) => void
  readonly isSaving: boolean
  /** What went wrong, a sentence. */
  readonly failure: string | null
}

/** One press on what a page is to be saved as. */
export function SaveAs<Format extends string>({ formats, onSave, isSaving, failure }: SaveAsProps<Format>) {
  return (
    <>
      <MenuTrigger>
        <Button isDisabled={isSaving}>
          <Download aria-hidden="true" />
          {isSaving ? 'Saving' : 'Save as'}
        </Button>
        <Popover placement="bottom end">
          <Menu aria-label="Save as">
            {formats.map(({ format, name }) => (
              <MenuItem key={format} onAction={() => onSave(format)}>
                {name}
              </MenuItem>
            ))}
          </Menu>
        </Popover>
      </MenuTrigger>
      {failure === null ? null : <Notice tone="bad">{failure}</Notice>}
    </>
  )
}
