import { useQueryClient } from '@tanstack/react-query'
import { type ChangedSettings, FIRST_SETTINGS, type Settings, withChanged } from '../../main/contract/settings.ts'
import { useClient } from '../host/host-provider.tsx'
import { valueOrThrow } from '../host/problem-error.ts'
import { useCall } from '../host/use-call.ts'
import { useAutosave } from './savers.tsx'

export interface KeptSettings {
  /** The first ones until the host has answered. */
  readonly settings: Settings
  readonly isKnown: boolean
  /** Shown at once and kept soon; what could not be kept is tried again with the next change. */
  readonly change: (changed: ChangedSettings) => void
  /** The sentence if keeping failed. */
  readonly failure: string | null
}

const QUESTION = ['settings.get', {}] as const

/**
 * Only what was changed is sent, so that an answer on its way, which does not know of it yet, takes nothing back: what
 * is not known to be kept lies over every answer.
 */
export function useSettings(): KeptSettings {
  const client = useClient()
  const answers = useQueryClient()
  const { data } = useCall('settings.get', {})
  const saver = useAutosave<ChangedSettings>('settings', async (changed) => {
    const kept = valueOrThrow(await client.call('settings.keep', changed))
    await answers.cancelQueries({ queryKey: QUESTION })
    answers.setQueryData(QUESTION, kept)
  })
  return {
    settings: withChanged(data ?? FIRST_SETTINGS, saver.unsaved()?.value ?? {}),
    isKnown: data !== undefined,
    change(changed) {
      const unsaved = { ...saver.unsaved()?.value, ...changed }
      saver.put(unsaved)
      answers.setQueryData<Settings>(QUESTION, (shown) => shown && withChanged(shown, unsaved))
    },
    failure: saver.now.kind === 'failed' ? saver.now.message : null,
  }
}
