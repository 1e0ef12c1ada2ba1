import { useEffect, useEffectEvent } from 'react'
import { OVERLAYS } from '../viewer/frame-viewer.tsx'
import type { Overlay } from '../viewer/frame-viewer.tsx'

/** What a key does on the ride screen. */
export type RideKey =
  | { readonly kind: 'step'; readonly frames: number }
  | { readonly kind: 'first' | 'last' | 'play' | 'undo' | 'redo' | 'nothing-chosen' }
  | { readonly kind: 'overlay'; readonly overlay: Overlay }

interface Pressed {
  readonly key: string
  readonly shiftKey: boolean
  readonly ctrlKey: boolean
  readonly metaKey: boolean
  readonly altKey: boolean
}

/** What a pressed key does; null for one that does nothing here. */
export function rideKey({ key, shiftKey, ctrlKey, metaKey, altKey }: Pressed): RideKey | null {
  if (altKey) return null
  if (ctrlKey || metaKey) {
    const letter = key.toLowerCase()
    if (letter === 'z') return { kind: shiftKey ? 'redo' : 'undo' }
    return letter === 'y' ? { kind: 'redo' } : null
  }
  const frames = shiftKey ? 10 : 1
  switch (key) {
    case 'ArrowLeft':
    case ',':
    case '<':
      return { kind: 'step', frames: -frames }
    case 'ArrowRight':
    case '.':
    case '>':
      return { kind: 'step', frames }
    case 'Home':
      return { kind: 'first' }
    case 'End':
      return { kind: 'last' }
    case ' ':
      return { kind: 'play' }
    case 'Escape':
      return { kind: 'nothing-chosen' }
    default: {
      const overlay = OVERLAYS.find(({ shortcut }) => shortcut === key.toUpperCase())
      return overlay === undefined ? null : { kind: 'overlay', overlay: overlay.overlay }
    }
  }
}

/** Controls that have a use of their own for letters and arrows. */
const OWN_KEYS =
  'input, textarea, select, [contenteditable], [role=radio], [role=listbox], [role=menu], [role=dialog], [role=alertdialog]'
/** Controls that the space bar presses. */
const PRESSED_BY_SPACE = 'button, a, summary, [role=button]'

/**
 * The keys of the ride screen. Letters do nothing unless the focus is on the film or the chart, or nowhere: elsewhere
 * they may be meant for something else.
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
      const isEverywhere = meant.kind === 'undo' || meant.kind === 'redo' || meant.kind === 'nothing-chosen'
      const isOnStage = target.closest(stageSelector) !== null || target.matches('body, main')
      if (!isEverywhere && !isOnStage) return
      event.preventDefault()
      act(meant)
    }
    window.addEventListener('keydown', press)
    return () => window.removeEventListener('keydown', press)
  }, [stageSelector])
}
