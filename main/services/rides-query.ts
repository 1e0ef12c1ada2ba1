import type { FoundBy, RideCard, RideCount, RideCounts, RidesQuery, TagCount } from '../contract/rides.ts'

/** The page of rides that a query asks for, and how many fit it in all. `cards` come newest first. */
export function foundRides<Card extends FoundBy>(
  cards: readonly Card[],
  query: RidesQuery,
): { readonly total: number; readonly rides: readonly Card[] } {
  const words = plain(query.words).split(/\s+/).filter(Boolean)
  const fitting = cards.filter(
    (card) =>
      (query.dogId === null || card.dogId === query.dogId) &&
      (query.boardId === null || card.boardId === query.boardId) &&
      (query.leaving === null || card.leaving === query.leaving) &&
      holdsAll(card, words),
  )
  const { offset, limit } = query
  return { total: fitting.length, rides: sorted(fitting, query.sortBy).slice(offset, offset + limit) }
}

/** Rides by dog and by board. `cards` come newest first. */
export function countedRides(cards: readonly RideCard[]): RideCounts {
  return { dogs: counted(cards, ({ dogId }) => dogId), boards: counted(cards, ({ boardId }) => boardId) }
}

/** How often each tag is there, the most frequent first. */
export function countedTags(tags: readonly string[]): readonly TagCount[] {
  const counts = new Map<string, number>()
  for (const tag of tags) counts.set(tag, (counts.get(tag) ?? 0) + 1)
  return [...counts]
    .map(([tag, rides]) => ({ tag, rides }))
    .sort((a, b) => b.rides - a.rides || byName.compare(a.tag, b.tag))
}

function counted(
  cards: readonly RideCard[],
  idOf: (card: RideCard) => string | null,
): Readonly<Record<string, RideCount>> {
  const counts = new Map<string, RideCount>()
  for (const card of cards) {
    const id = idOf(card)
    if (id === null) continue
    const sofar = counts.get(id)
    counts.set(id, { rides: (sofar?.rides ?? 0) + 1, lastAt: sofar?.lastAt ?? card.session.day ?? card.takenInAt })
  }
  return Object.fromEntries(counts)
}

function holdsAll(card: FoundBy, words: readonly string[]): boolean {
  if (words.length === 0) return true
  const { dogName, boardName, title, note, fileName, comments, session } = card
  const { venue, surface, weather, handler, tags } = session
  const said = [venue, surface, weather, handler, ...tags, ...comments]
  const text = plain([dogName, boardName, title, note, fileName, ...said].join('\n'))
  return words.every((word) => text.includes(word))
}

/** Small letters without accents, so that "zoe" finds "Zoë". */
function plain(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase()
}

function sorted<Card extends FoundBy>(cards: readonly Card[], sortBy: RidesQuery['sortBy']): readonly Card[] {
  switch (sortBy) {
    case 'newest':
      return cards
    case 'oldest':
      return cards.toReversed()
    case 'dog':
      return cards.toSorted((a, b) => missingLast(a.dogName, b.dogName, (x, y) => byName.compare(x, y)))
    case 'shortest-hold':
      return cards.toSorted((a, b) => missingLast(holdS(a), holdS(b), (x, y) => x - y))
    case 'longest-hold':
      return cards.toSorted((a, b) => missingLast(holdS(a), holdS(b), (x, y) => y - x))
  }
}

const byName = new Intl.Collator('en', { sensitivity: 'base', numeric: true })

/** Rides without a value come last, whichever way the others go. */
function missingLast<T>(a: T | null, b: T | null, compare: (a: T, b: T) => number): number {
  if (a === null || b === null) return Number(a === null) - Number(b === null)
  return compare(a, b)
}

function holdS({ hold }: FoundBy): number | null {
  return hold.kind === 'withheld' ? null : hold.value
}
