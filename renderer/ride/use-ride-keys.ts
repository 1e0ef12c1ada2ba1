import { useEffect, useEffectEvent } from 'react'
import { rideKey, type RideKey } from './ride-keys.ts'

/** Controls that have a use of their own for letters and arrows. */
const OWN_KEYS =
  'input, textarea, select, [contenteditable], [role=radio], [role=listbox], [role=menu], [role=dialog], [role=alertdialog]'
/** Of these, those that keep their keys after a click, too; handles of the chart are moved by arrows. */
const OWN_KEYS_AFTER_A_CLICK =
  'input:not([type=radio], [type=checkbox]), textarea, select, [contenteditable], [role=slider], [role=listbox], [role=menu], [role=dialog], [role=alertdialog]'
/** Controls that the space bar presses. */
const PRESSED_BY_SPACE = 'button, a, summary, [role=button]'

const EVERYWHERE: ReadonlySet<RideKey['kind']> = new Set(['step', 'undo', 'redo', 'nothing-chosen'])
const FILM: ReadonlySet<RideKey['kind']> = new Set(['step', 'first', 'last', 'play'])

/**
 * The keys of the ride screen. Steps, undo and redo work wherever nothing else is meant by them; letters only while the
 * focus is on the film or the chart, or nowhere. Who works with the mouse has the film's keys under the other hand: a
 * click on a speed or a toggle leaves them with the film, and only Tab gives them to the control.
 */
export function useRideKeys(stageSelector: string, onKey: (key: RideKey) => void): void {
  const act = useEffectEvent(onKey)
  useEffect(() => {
    let isByPointer = false
    const point = (): void => {
      isByPointer = true
    }
    /** Before the control in focus: a row of buttons would take the arrows for itself. */
    const pressFirst = (event: KeyboardEvent): void => {
      if (event.key === 'Tab') isByPointer = false
      if (!isByPointer || !(event.target instanceof Element) || event.target.closest(OWN_KEYS_AFTER_A_CLICK) !== null)
        return
      const meant = rideKey(event)
      if (meant === null || !FILM.has(meant.kind)) return
      event.preventDefault()
      event.stopPropagation()
      act(meant)
    }
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
    window.addEventListener('pointerdown', point, true)
    window.addEventListener('keydown', pressFirst, true)
    window.addEventListener('keydown', press)
    return () => {
      window.removeEventListener('pointerdown', point, true)
      window.removeEventListener('keydown', pressFirst, true)
      window.removeEventListener('keydown', press)
    }
  }, [stageSelector])
}
