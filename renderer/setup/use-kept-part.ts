import { useQueryClient } from '@tanstack/react-query'
import type { ClipDetail } from '../../main/contract/clips.ts'
import type { Autosave, SaveState } from '../app/autosave.ts'
import { useAutosave } from '../app/use-autosave.ts'
import { useChange } from '../host/use-call.ts'

/**
 * Keeps the set-up or the marks of a clip while the handler works on them. What is put is what every screen shows from
 * then on, so that one who leaves and comes back at once finds it, kept or not yet.
 */
export function useKeptPart<Part extends 'setup' | 'marks'>(
  clipId: string,
  part: Part,
): Autosave<ClipDetail[Part]> & { readonly state: SaveState } {
  const answers = useQueryClient()
  const setUp = useChange('clips.setUp')
  const mark = useChange('clips.mark')
  const saving = useAutosave<Pick<ClipDetail, Part>>(async (kept) => {
    const values: Partial<ClipDetail> = kept
    if (values.setup !== undefined) await setUp.mutateAsync({ clipId, setup: values.setup })
    if (values.marks !== undefined) await mark.mutateAsync({ clipId, marks: values.marks })
  })
  return {
    ...saving,
    put(value) {
      const kept = { [part]: value } as Pick<ClipDetail, Part>
      answers.setQueryData<ClipDetail>(['clips.get', { clipId }], (shown) => shown && { ...shown, ...kept })
      saving.put(kept)
    },
  }
}
