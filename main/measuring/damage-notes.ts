import type { DamagedSpan } from '../../analysis/clip/damage.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import type { OpenedClip } from './open-clip.ts'

/** What a handler should know about damage: what the file itself told, and where pictures cannot be trusted. */
export function damageNotes(opened: Pick<OpenedClip, 'clip' | 'damagedS'>, followed: readonly DamagedSpan[]): string[] {
  const spans = followed.length > 0 ? followed : opened.damagedS
  if (spans.length === 0) return [...opened.clip.notes]
  const named = spans.slice(0, MOST_NAMED).map(({ fromS, toS }) => `${fixed(fromS, 1)} to ${fixed(toS, 1)} s`)
  const more = spans.length > MOST_NAMED ? ' and later' : ''
  return [
    ...opened.clip.notes,
    `Pictures are damaged or missing from ${named.join(', ')}${more}: what depends on them is withheld. Copy the clip from the phone again.`,
  ]
}

/** More would make no sentence. */
const MOST_NAMED = 4
