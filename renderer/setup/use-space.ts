import { useEffect, useEffectEvent } from 'react'

/** Controls that the space bar presses, opens or writes into. */
const PRESSED_BY_SPACE =
  'button, a, summary, textarea, select, [role=button], [role=listbox], [role=dialog], input:not([type=range])'

/** Calls `onSpace` for the space bar wherever no control takes it. */
export function useSpace(onSpace: () => void): void {
  const act = useEffectEvent(onSpace)
  useEffect(() => {
    const press = (event: KeyboardEvent): void => {
      if (event.key !== ' ' || event.defaultPrevented || !(event.target instanceof Element)) return
      if (event.target.closest(PRESSED_BY_SPACE) !== null) return
      event.preventDefault()
      act()
    }
    window.addEventListener('keydown', press)
    return () => window.removeEventListener('keydown', press)
  }, [])
}
