import type { ReviewItem } from './review-item.ts'

/**
 * What two copies of a review say together: of each item the highest version. Items have one author each, so that
 * versions of one do not compete; should they all the same, the later text in the order of code points holds.
 *
 * This is a join: any order, any grouping and any repetition of copies gives the same (a state-based last-writer-wins
 * set after Shapiro, Preguiça, Baquero and Zawirski, "A comprehensive study of convergent and commutative replicated
 * data types", INRIA RR-7506, 2011).
 *
 * @param ours any items
 * @param theirs any items
 * @returns one item an id, in the order of ids
 */
export function mergedReviews(ours: readonly ReviewItem[], theirs: readonly ReviewItem[]): readonly ReviewItem[] {
  const byId = new Map<string, ReviewItem>()
  for (const item of [...ours, ...theirs]) {
    const other = byId.get(item.id)
    byId.set(item.id, other === undefined || holdsOver(item, other) ? item : other)
  }
  return [...byId.values()].sort((a, b) => order(a.id, b.id))
}

/**
 * How many items of a copy bring something that ours lack.
 *
 * @param ours any items
 * @param theirs any items
 * @returns items that are new or of a higher version
 */
export function newIn(ours: readonly ReviewItem[], theirs: readonly ReviewItem[]): readonly ReviewItem[] {
  const before = new Map(ours.map((item) => [item.id, item]))
  return mergedReviews(ours, theirs).filter((item) => {
    const known = before.get(item.id)
    return known === undefined || known.version !== item.version || canonical(known) !== canonical(item)
  })
}

function holdsOver(item: ReviewItem, other: ReviewItem): boolean {
  if (item.version !== other.version) return item.version > other.version
  return order(canonical(item), canonical(other)) > 0
}

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}

/** The same text for the same content, whatever the order of its fields. */
function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join()}]`
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null'
  const fields: [string, unknown][] = Object.entries(value)
  const told = fields.filter(([, one]) => one !== undefined).sort(([a], [b]) => order(a, b))
  return `{${told.map(([name, one]) => `${JSON.stringify(name)}:${canonical(one)}`).join()}}`
}
