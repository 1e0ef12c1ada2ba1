import { Download } from 'lucide-react'
import { Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import type { SeasonFormat } from '../../main/contract/seasons.ts'
import { handOver } from '../host/hand-over.ts'
import { useChange } from '../host/use-call.ts'
import { Button } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'

const FORMATS: readonly { readonly format: SeasonFormat; readonly name: string }[] = [
  { format: 'pdf', name: 'PDF, to print' },
  { format: 'html', name: 'Web page, to send' },
  { format: 'csv', name: 'Table of rides (CSV)' },
  { format: 'json', name: 'All numbers (JSON)' },
  { format: 'rides', name: 'All rides (JSON), to read back' },
]

/** The season as a file: one press on what it is to be. */
export function SaveSeason({ dogId }: { readonly dogId: string }) {
  const save = useChange('seasons.save')
  return (
    <>
      <MenuTrigger>
        <Button isDisabled={save.isPending}>
          <Download aria-hidden="true" />
          {save.isPending ? 'Writing' : 'Save as'}
        </Button>
        <Popover placement="bottom end">
          <Menu aria-label="Save as">
            {FORMATS.map(({ format, name }) => (
              <MenuItem key={format} onAction={() => save.mutate({ dogId, format }, { onSuccess: handOver })}>
                {name}
              </MenuItem>
            ))}
          </Menu>
        </Popover>
      </MenuTrigger>
      {save.error === null ? null : <Notice tone="bad">{save.error.message}</Notice>}
    </>
  )
}
