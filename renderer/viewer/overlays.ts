import type { Settings } from '../../main/contract/settings.ts'

export type Overlay = keyof Settings['overlays']

/** What is drawn over the picture, with the key that turns it on and off. */
export const OVERLAYS: readonly {
  readonly overlay: Overlay
  readonly name: string
  readonly about: string
  readonly shortcut: string
}[] = [
  { overlay: 'plank', name: 'Plank', about: 'The near top edge of the plank, and its pivot', shortcut: 'B' },
  { overlay: 'zones', name: 'Zones', about: 'The contact zones', shortcut: 'Z' },
  { overlay: 'paws', name: 'Paws', about: 'The paws that stand in this frame: front full, hind hollow', shortcut: 'P' },
  {
    overlay: 'dog',
    name: 'Dog',
    about: 'Its outline; where that is unknown, the span from rearmost to foremost paw, and the body',
    shortcut: 'D',
  },
]
