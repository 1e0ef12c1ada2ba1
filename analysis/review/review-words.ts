import { EVENT_NAMES } from '../words/event-names.ts'
import { fixed } from '../words/in-words.ts'
import { readReview } from './read-review.ts'
import type { ReviewComment, ReviewItem, ReviewQuestion, ReviewSuggestion } from './review-item.ts'
import { voiceInWords } from './voice.ts'

/** One remark as a line: who, when, what. */
export interface ReviewLine {
  readonly who: string
  readonly when: string
  readonly what: string
}

/**
 * When in a ride something was said.
 *
 * @param atS s; null: about the whole ride
 * @param toS s, the end of a span; null: one moment
 * @returns `whenInWords(1.2, 1.5)` is "1.20 to 1.50 s", `whenInWords(null, null)` "The whole ride"
 */
export function whenInWords(atS: number | null, toS: number | null): string {
  if (atS === null) return 'The whole ride'
  return toS === null ? `${fixed(atS, 2)} s` : `${fixed(atS, 2)} to ${fixed(toS, 2)} s`
}

/**
 * A suggested correction in words.
 *
 * @param suggestion s
 * @returns "Board landed: 1.234 s", or "Dog left: did not happen in this clip"
 */
export function suggestionInWords({ event, to }: Pick<ReviewSuggestion, 'event' | 'to'>): string {
  const name = EVENT_NAMES[event].name
  return to.kind === 'at' ? `${name}: ${fixed(to.atS, 3)} s` : `${name}: did not happen in this clip`
}

/**
 * Everything that was said of a ride, line by line.
 *
 * @param items merged
 * @returns questions first, then comments by time, then suggestions with what became of them
 */
export function reviewLines(items: readonly ReviewItem[]): readonly ReviewLine[] {
  const { comments, questions, suggestions, nameOf } = readReview(items)
  const lineOf = (one: ReviewComment | ReviewQuestion, toS: number | null, what: string): ReviewLine => ({
    who: nameOf(one.author),
    when: whenInWords(one.atS, toS),
    what,
  })
  return [
    ...questions.map((one) => lineOf(one, null, `Question: ${one.text}`)),
    ...comments.map((one) => lineOf(one, one.toS, said(one))),
    ...suggestions.map(({ suggestion, verdict }) => ({
      who: nameOf(suggestion.author),
      when: 'Suggestion',
      what: [suggestionInWords(suggestion), suggestion.text, verdict === null ? '' : `(${verdict})`]
        .filter((part) => part !== '')
        .join('. '),
    })),
  ]
}

/**
 * The same as plain text, to be pasted anywhere.
 *
 * @param title the ride's name
 * @param items merged
 * @returns lines that end in a line break
 */
export function reviewText(title: string, items: readonly ReviewItem[]): string {
  const lines = reviewLines(items).map(({ who, when, what }) => `${when}  ${who}: ${what}`)
  return [title, '', ...(lines.length === 0 ? ['No comments yet.'] : lines), ''].join('\n')
}

/**
 * What a search looks through.
 *
 * @param items merged
 * @returns the words of comments, questions and suggestions
 */
export function reviewTexts(items: readonly ReviewItem[]): readonly string[] {
  const { comments, questions, suggestions } = readReview(items)
  const all = [...questions, ...comments, ...suggestions.map(({ suggestion }) => suggestion)]
  return all.map(({ text }) => text).filter((text) => text !== '')
}

function said({ text, strokes, voice }: ReviewComment): string {
  const drawn = strokes.length === 0 ? [] : [text === '' ? 'a drawing on the picture' : 'with a drawing']
  const besides = [...drawn, ...(voice === undefined ? [] : [voiceInWords(voice)])].join('; ')
  if (text === '') return besides.replace(/^./, (letter) => letter.toUpperCase())
  return besides === '' ? text : `${text} (${besides})`
}
