import type { ReviewItem } from './review-item.ts'
import { VOICE_LIMITS } from './voice.ts'

/**
 * What the recordings of a review take.
 *
 * @param items merged: one an id
 * @returns letters of base64
 */
export function voiceLetters(items: readonly ReviewItem[]): number {
  return items.reduce((sum, item) => sum + (item.kind === 'comment' ? (item.voice?.sound.length ?? 0) : 0), 0)
}

/** Whether one more recording of any size has room beside these `items`. */
export function hasRoomForVoice(items: readonly ReviewItem[]): boolean {
  return voiceLetters(items) + VOICE_LIMITS.letters <= VOICE_LIMITS.lettersInAll
}
