import { EVERYWHERE, type KeyGroup, MARKING, MOMENT, RIDE, STRETCH } from './keyboard-map.ts'

/** The keys of every screen, in the order in which a clip passes them. */
export const KEY_GROUPS: readonly KeyGroup[] = [EVERYWHERE, STRETCH, MARKING, RIDE, MOMENT]
