import type { ReviewAuthor, ReviewItem } from './review-item.ts'

/**
 * A stranger's words as one line, without signs that nobody sees or that turn the line about.
 *
 * @param text any
 * @returns the line; empty where there is nothing to see
 * @example plainLine(' Ida \u202E Handler\n') // 'Ida Handler'
 */
export function plainLine(text: string): string {
  return text
    .replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/gu, ' ')
    .replace(/\s+/g, ' ')
    .trim()
}

/**
 * What each author is called. Who did not sign here but elsewhere has that name; who never signed is "Unsigned", and
 * counted where there are several, so that two people do not read as one.
 *
 * @param items everything that was said, of all authors
 * @returns the name of an author as it is shown
 */
export function authorNames(items: readonly ReviewItem[]): (author: ReviewAuthor) => string {
  const signed = new Map<string, string>()
  const all = new Set<string>()
  for (const { author } of items) {
    all.add(author.id)
    const name = plainLine(author.name)
    if (name !== '' && !signed.has(author.id)) signed.set(author.id, name)
  }
  const unsigned = [...all].filter((id) => !signed.has(id)).sort()
  return ({ id, name }) => {
    const own = plainLine(name) || signed.get(id)
    if (own !== undefined) return own
    return unsigned.length < 2 ? 'Unsigned' : `Unsigned ${unsigned.indexOf(id) + 1}`
  }
}
