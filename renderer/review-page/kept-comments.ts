import type { ReviewAuthor, ReviewItem } from '../../analysis/review/review-item.ts'
import { randomHex } from '../review/new-item.ts'

/** What a browser keeps of a review until it is saved, so that a closed tab loses nothing. */
export interface KeptComments {
  readonly author: ReviewAuthor
  readonly items: readonly ReviewItem[]
}

/** Some browsers keep nothing for files: then it begins anew each time. */
export function keptComments(packId: string): KeptComments {
  try {
    const kept = JSON.parse(localStorage.getItem(keyOf(packId)) ?? 'null') as KeptComments | null
    if (kept !== null && /^[0-9a-f]{16}$/.test(kept.author.id) && Array.isArray(kept.items)) return kept
  } catch {
    // As if nothing had been kept.
  }
  return { author: { id: randomHex(8), name: '' }, items: [] }
}

/** Whether it could be kept. */
export function keepComments(packId: string, kept: KeptComments): boolean {
  try {
    localStorage.setItem(keyOf(packId), JSON.stringify(kept))
    return true
  } catch {
    return false
  }
}

function keyOf(packId: string): string {
  return `tiphold-review-${packId}`
}
