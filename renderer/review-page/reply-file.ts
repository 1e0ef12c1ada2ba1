import type { ReviewItem } from '../../analysis/review/review-item.ts'
import { REPLY_FORMAT, type PackCard } from '../../main/contract/review.ts'

/** "Wren, second run, reply.json", fit for every system. */
export function replyFileName({ dogName, title }: Pick<PackCard, 'dogName' | 'title'>): string {
  const name = [dogName, title, 'reply'].filter((part) => part !== '').join(', ')
  return `${name.replace(/[^\p{L}\p{N} ,._-]/gu, '_').slice(0, 100)}.json`
}

/** The items of a reply that was saved before; null for any other file. The handler's program looks closer. */
export function itemsOfReply(text: string, packId: string): readonly ReviewItem[] | null {
  try {
    const reply = JSON.parse(text) as Record<string, unknown>
    if (reply['format'] !== REPLY_FORMAT || reply['packId'] !== packId || !Array.isArray(reply['items'])) return null
    const items = reply['items'] as readonly ReviewItem[]
    return items.every(isItem) ? items : null
  } catch {
    return null
  }
}

const KINDS = new Set(['comment', 'question', 'suggestion', 'answer'])

function isItem(item: ReviewItem): boolean {
  const { id, author, version, kind } = item
  return typeof id === 'string' && id.startsWith(`${author.id}.`) && Number.isInteger(version) && KINDS.has(kind)
}
