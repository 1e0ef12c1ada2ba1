import { z } from 'zod'
import { mergedReviews } from '../../../analysis/review/merge-reviews.ts'
import type { ReviewItem } from '../../../analysis/review/review-item.ts'
import { VOICE_LIMITS } from '../../../analysis/review/voice.ts'
import { voiceLetters } from '../../../analysis/review/voice-room.ts'
import { itemHead, knownItem, REPLY_FORMAT, REVIEW_LIMITS } from '../../contract/review.ts'
import { jsonText } from '../../files/json-file.ts'
import { PackProblem } from './pack-files.ts'

const KNOWN = new Set(['comment', 'question', 'suggestion', 'answer'])

const replyShape = z.looseObject({
  format: z.string().max(60),
  packId: z.string().max(64),
  rideId: z.string().min(1).max(64),
  items: z.array(z.unknown()),
})

/** A reply that somebody sent. */
export interface Reply {
  readonly packId: string
  readonly rideId: string
  readonly items: readonly ReviewItem[]
}

/** The items of a file. Kinds of a newer program are kept as they came; anything else that is wrong refuses them all. */
export function itemsIn(value: unknown, where: string): readonly ReviewItem[] {
  if (!Array.isArray(value)) throw new PackProblem(`There are no comments in ${where}: ask for it once more.`)
  if (value.length > REVIEW_LIMITS.items) {
    throw new PackProblem(`More than ${REVIEW_LIMITS.items} comments are in ${where}: ask for a smaller one.`)
  }
  const items = mergedReviews(
    value.map((one) => itemIn(one, where)),
    [],
  )
  if (voiceLetters(items) > VOICE_LIMITS.lettersInAll) {
    throw new PackProblem(`There are more than 10 MB of recordings in ${where}: ask for fewer or shorter ones.`)
  }
  return items
}

function itemIn(value: unknown, where: string): ReviewItem {
  if (isTooDeep(value)) throw new PackProblem(`A comment in ${where} is damaged: ask for it once more.`)
  const head = itemHead.safeParse(value)
  if (!head.success) throw new PackProblem(`A comment in ${where} is damaged: ask for it once more.`)
  const { id, author, version, madeAt, isRemoved, kind } = head.data
  if (!id.startsWith(`${author.id}.`)) {
    throw new PackProblem(`A comment in ${where} bears the name of somebody else: it is not opened.`)
  }
  if (!KNOWN.has(kind)) return { id, author, version, madeAt, isRemoved, kind: 'unknown', asItCame: head.data }
  const known = knownItem.safeParse(value)
  if (!known.success) throw new PackProblem(itemFault(known.error.issues, where))
  return known.data
}

function itemFault(issues: readonly z.core.$ZodIssue[], where: string): string {
  const ofVoice = issues.find(({ path }) => path[0] === 'voice')
  if (ofVoice === undefined) return `A comment in ${where} is damaged: ask for it once more.`
  if (ofVoice.code !== 'too_big') return `A recording in ${where} cannot be played here: ask for it once more.`
  return ofVoice.path[1] === 'durationS'
    ? `A recording in ${where} is longer than ${VOICE_LIMITS.durationS} s: ask for a shorter one.`
    : `A recording in ${where} is too large: ask for a shorter one.`
}

/** Both together; refused where they are more than can be kept, so that what is there stays readable. */
export function mergedItems(ours: readonly ReviewItem[], theirs: readonly ReviewItem[]): readonly ReviewItem[] {
  const merged = mergedReviews(ours, theirs)
  if (merged.length > REVIEW_LIMITS.items && merged.length > ours.length) {
    throw new PackProblem(
      `With these there would be more than ${REVIEW_LIMITS.items} comments on this ride: they are not taken over.`,
    )
  }
  const letters = voiceLetters(merged)
  if (letters > VOICE_LIMITS.lettersInAll && letters > voiceLetters(ours)) {
    throw new PackProblem(
      'With these there would be more than 10 MB of recordings on this ride: ask for fewer or shorter ones.',
    )
  }
  return merged
}

/** The items as they stand in a file. */
export function itemsOnDisk(items: readonly ReviewItem[]): readonly unknown[] {
  return items.map((item) => (item.kind === 'unknown' ? item.asItCame : item))
}

export function replyText({ packId, rideId, items }: Reply): string {
  return jsonText({ format: REPLY_FORMAT, packId, rideId, items: itemsOnDisk(items) })
}

/** A reply from its text; whatever is wrong with it is a `PackProblem` with a sentence. */
export function replyIn(text: string): Reply {
  const reply = replyShape.safeParse(parsed(text))
  if (!reply.success) throw new PackProblem('This file is neither a review pack nor a reply to one: choose another.')
  const { format, packId, rideId, items } = reply.data
  if (format !== REPLY_FORMAT) {
    const isNewer = /^tiphold\.review-reply\/\d+$/.test(format)
    throw new PackProblem(
      isNewer
        ? 'This reply was made by a newer Tiphold: update Tiphold, then open it again.'
        : 'This file is neither a review pack nor a reply to one: choose another.',
    )
  }
  return { packId, rideId, items: itemsIn(items, 'this reply') }
}

/** What a handler takes over of a reply: nothing in her own name, and no answers, which are hers alone. */
export function takenOver(items: readonly ReviewItem[], handlerId: string): readonly ReviewItem[] {
  return items.filter(({ author, kind }) => author.id !== handlerId && kind !== 'answer')
}

/** Lists in lists in lists: no comment is like that, and programs break on it. */
const MOST_LEVELS = 12

function isTooDeep(value: unknown): boolean {
  let level: unknown[] = [value]
  for (let depth = 0; level.length > 0; depth++) {
    if (depth > MOST_LEVELS) return true
    level = level.flatMap((one) => (typeof one === 'object' && one !== null ? (Object.values(one) as unknown[]) : []))
  }
  return false
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ''))
  } catch {
    return null
  }
}
