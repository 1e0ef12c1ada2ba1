import { useEffect, useEffectEvent } from 'react'
import { rideKey, type RideKey } from './ride-keys.ts'

/** Controls that have a use of their own for letters and arrows. */
const OWN_KEYS =
  'input, textarea, select, [contenteditable], [role=radio], [role=listbox], [role=menu], [role=dialog], [role=alertdialog]'
/** Controls that the space bar presses. */
const PRESSED_BY_SPACE = 'button, a, summary, [role=button]'

const EVERYWHERE: ReadonlySet<RideKey['kind']> = new Set(['step', 'undo', 'redo', 'nothing-chosen'])

/**
 * The keys of the ride screen. Steps, undo and redo work wherever nothing else is meant by them; letters only while the
 * focus is on the film or the chart, or nowhere.
 */
export function useRideKeys(stageSelector: string, onKey: (key: RideKey) => void): void {
  const act = useEffectEvent(onKey)
  useEffect(() => {
    const press = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || !(event.target instanceof Element)) return
      const { target } = event
      const meant = rideKey(event)
      if (meant === null || target.closest(OWN_KEYS) !== null) return
      if (meant.kind === 'play' && target.closest(PRESSED_BY_SPACE) !== null) return
      const isEverywhere = EVERYWHERE.has(meant.kind)
      const isOnStage = target.closest(stageSelector) !== null || target.matches('body, main')
      if (!isEverywhere && !isOnStage) return
      event.preventDefault()
      act(meant)
    }
    window.addEventListener('keydown', press)
    return () => window.removeEventListener('keydown', press)
  }, [stageSelector])
}
