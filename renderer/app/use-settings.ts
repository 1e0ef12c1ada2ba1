import { useQueryClient } from '@tanstack/react-query'
import { FIRST_SETTINGS, type Settings } from '../../main/contract/settings.ts'
import { useCall, useChange } from '../host/use-call.ts'

export interface KeptSettings {
  /** The first ones until the host has answered. */
  readonly settings: Settings
  readonly isKnown: boolean
  /** Shown at once and kept; taken back if it could not be kept. */
  readonly change: (changed: Partial<Settings>) => void
  /** The sentence if keeping failed. */
  readonly failure: string | null
}

export function useSettings(): KeptSettings {
  const answers = useQueryClient()
  const { data } = useCall('settings.get', {})
  const keep = useChange('settings.keep')
  const settings = data ?? FIRST_SETTINGS
  return {
    settings,
    isKnown: data !== undefined,
    change(changed) {
      // Several changes may follow each other before the first is kept: each builds on what is shown.
      const shown = answers.getQueryData<Settings>(['settings.get', {}]) ?? settings
      const next = { ...shown, ...changed }
      answers.setQueryData(['settings.get', {}], next)
      keep.mutate(next, { onError: () => void answers.invalidateQueries({ queryKey: ['settings.get'] }) })
    },
    failure: keep.error?.message ?? null,
  }
}
