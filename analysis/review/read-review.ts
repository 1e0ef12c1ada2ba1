import { authorNames } from './author-names.ts'
import type {
  ReviewAnswer,
  ReviewAuthor,
  ReviewComment,
  ReviewItem,
  ReviewQuestion,
  ReviewSuggestion,
} from './review-item.ts'

/** A suggestion, and what became of it. */
export interface OpenSuggestion {
  readonly suggestion: ReviewSuggestion
  readonly verdict: ReviewAnswer['verdict'] | null
}

/** What is to be shown of a review. */
export interface Review {
  /** By time, those about the whole ride first. */
  readonly comments: readonly ReviewComment[]
  readonly questions: readonly ReviewQuestion[]
  readonly suggestions: readonly OpenSuggestion[]
  /** Items that a newer program made. */
  readonly unknown: number
  /** What an author is called here. */
  readonly nameOf: (author: ReviewAuthor) => string
}

/**
 * Sorts a review's items for people; what was taken back is left out.
 *
 * @param items merged: one an id
 * @param handlerId only this author answers suggestions; null: anybody does
 * @returns comments and questions by time, suggestions with the newest answer to each
 */
export function readReview(items: readonly ReviewItem[], handlerId: string | null = null): Review {
  const told = items.filter(({ isRemoved }) => !isRemoved)
  const answers = told.filter((item): item is ReviewAnswer => item.kind === 'answer')
  const verdictOn = (id: string): ReviewAnswer['verdict'] | null => {
    const about = answers.filter((one) => one.about === id && (handlerId === null || one.author.id === handlerId))
    return (
      about.reduce<ReviewAnswer | null>((a, b) => (a === null || b.version > a.version ? b : a), null)?.verdict ?? null
    )
  }
  return {
    comments: told.filter((item): item is ReviewComment => item.kind === 'comment').sort(byTime),
    questions: told.filter((item): item is ReviewQuestion => item.kind === 'question').sort(byTime),
    suggestions: told
      .filter((item): item is ReviewSuggestion => item.kind === 'suggestion')
      .map((suggestion) => ({ suggestion, verdict: verdictOn(suggestion.id) })),
    unknown: told.filter(({ kind }) => kind === 'unknown').length,
    nameOf: authorNames(items),
  }
}

function byTime(a: ReviewComment | ReviewQuestion, b: ReviewComment | ReviewQuestion): number {
  return (a.atS ?? -1) - (b.atS ?? -1) || (a.id < b.id ? -1 : 1)
}
