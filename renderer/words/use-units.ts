import type { Units } from '../../analysis/words/units.ts'
import { useSettings } from '../app/use-settings.ts'

/** The units that the handler has chosen. */
export function useUnits(): Units {
  return useSettings().settings.units
}
