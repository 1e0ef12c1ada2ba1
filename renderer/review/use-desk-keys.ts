import { useEffect, useEffectEvent } from 'react'
import { type Overlay, OVERLAYS } from '../viewer/overlays.ts'

export interface DeskKeys {
  readonly step: (frames: number) => void
  readonly play: () => void
  readonly toggle: (overlay: Overlay) => void
}

/** The same keys as on the ride screen, wherever the focus is not in a control that takes them itself. */
export function useDeskKeys({ step, play, toggle }: DeskKeys): void {
  const press = useEffectEvent((event: KeyboardEvent): void => {
    if (event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey || takesKeys(event.target)) return
    const overlay = OVERLAYS.find(({ shortcut }) => shortcut.toLowerCase() === event.key.toLowerCase())
    if (event.key === 'ArrowLeft') step(event.shiftKey ? -10 : -1)
    else if (event.key === 'ArrowRight') step(event.shiftKey ? 10 : 1)
    else if (event.key === ' ') play()
    else if (overlay !== undefined) toggle(overlay.overlay)
    else return
    event.preventDefault()
  })
  useEffect(() => {
    const listener = (event: KeyboardEvent): void => press(event)
    window.addEventListener('keydown', listener)
    return () => window.removeEventListener('keydown', listener)
  }, [])
}

function takesKeys(target: EventTarget | null): boolean {
  return (
    target instanceof Element &&
    target.closest('input, textarea, button, select, [role="slider"], [role="toolbar"]') !== null
  )
}
