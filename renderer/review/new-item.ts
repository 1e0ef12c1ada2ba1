import type { ReviewAuthor, ReviewItem } from '../../analysis/review/review-item.ts'

/** Letters of chance: `randomHex(2)` is four of them. */
export function randomHex(bytes: number): string {
  const chance = crypto.getRandomValues(new Uint8Array(bytes))
  return [...chance].map((byte) => byte.toString(16).padStart(2, '0')).join('')
}

/** What every item has that is made now. */
export function newHead(author: ReviewAuthor) {
  return { id: `${author.id}.${randomHex(6)}`, author, version: 1, madeAt: new Date().toISOString(), isRemoved: false }
}

/** The same item, changed by its author. */
function changed<Item extends ReviewItem>(item: Item, change: Partial<Item>): Item {
  return { ...item, ...change, version: item.version + 1 }
}

/** The same item, taken back. Its words and its recording go, too. */
export function takenBack(item: ReviewItem): ReviewItem {
  switch (item.kind) {
    case 'comment': {
      const { id, author, version, madeAt, kind, atS, toS } = item
      return { id, author, version: version + 1, madeAt, isRemoved: true, kind, atS, toS, text: '', strokes: [] }
    }
    case 'question':
    case 'suggestion':
      return changed(item, { isRemoved: true, text: '' })
    case 'answer':
    case 'unknown':
      return changed<ReviewItem>(item, { isRemoved: true })
  }
}
