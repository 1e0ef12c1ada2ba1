import { useQueryClient } from '@tanstack/react-query'
import type { ClipDetail } from '../../main/contract/clips.ts'
import type { SaveState } from '../app/autosave.ts'
import { useAutosave, useSettle } from '../app/savers.tsx'
import { useClient } from '../host/host-provider.tsx'
import { valueOrThrow } from '../host/problem-error.ts'

type Part = 'setup' | 'marks'

export interface KeptPart<Value> {
  /** What is not kept yet, or else what the host has. */
  readonly value: Value
  readonly put: (value: Value) => void
  readonly settle: () => Promise<SaveState>
  readonly state: SaveState
}

/**
 * Keeps the set-up or the marks of a clip while the handler works on them. What is put is what every screen shows from
 * then on, so that one who leaves and comes back at once finds it, kept or not yet.
 */
export function useKeptPart<Name extends Part>(clip: ClipDetail, part: Name): KeptPart<ClipDetail[Name]> {
  const clipId = clip.card.id
  const answers = useQueryClient()
  const client = useClient()
  const key = ['clips.get', { clipId }]
  const saving = useAutosave<Pick<ClipDetail, Name>>(nameOf(part, clipId), async (kept) => {
    const { setup, marks }: Partial<ClipDetail> = kept
    if (setup !== undefined) valueOrThrow(await client.call('clips.setUp', { clipId, setup }))
    if (marks !== undefined) valueOrThrow(await client.call('clips.mark', { clipId, marks }))
  })
  return {
    value: saving.unsaved()?.value[part] ?? clip[part],
    settle: saving.settle,
    state: saving.now,
    put(value) {
      const kept = { [part]: value } as Pick<ClipDetail, Name>
      // An answer that is on its way does not know of this yet.
      void answers.cancelQueries({ queryKey: key })
      answers.setQueryData<ClipDetail>(key, (shown) => shown && { ...shown, ...kept })
      saving.put(kept)
    },
  }
}

/** Keeps all that was said of a clip and still waits, before something is made of it. */
export function useSettleClip(clipId: string): () => Promise<SaveState> {
  const settle = useSettle()
  return () => settle([nameOf('setup', clipId), nameOf('marks', clipId)])
}

function nameOf(part: Part, clipId: string): string {
  return `${part} of ${clipId}`
}
