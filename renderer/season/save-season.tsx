import type { SeasonFormat } from '../../main/contract/seasons.ts'
import { handOver } from '../host/hand-over.ts'
import { useChange } from '../host/use-call.ts'
import { SaveAs } from '../look/save-as.tsx'

const FORMATS: readonly { readonly format: SeasonFormat; readonly name: string }[] = [
  { format: 'pdf', name: 'PDF, to print' },
  { format: 'html', name: 'Web page, to send' },
  { format: 'csv', name: 'Table of rides (CSV)' },
  { format: 'json', name: 'All numbers (JSON)' },
  { format: 'rides', name: 'All rides (JSON), to read back' },
]

/** The season as a file. */
export function SaveSeason({ dogId }: { readonly dogId: string }) {
  const save = useChange('seasons.save')
  return (
    <SaveAs
      formats={FORMATS}
      onSave={(format) => save.mutate({ dogId, format }, { onSuccess: handOver })}
      isSaving={save.isPending}
      failure={save.error?.message ?? null}
    />
  )
}
