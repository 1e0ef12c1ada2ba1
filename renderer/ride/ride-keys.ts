import { type Overlay, OVERLAYS } from '../viewer/overlays.ts'

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
