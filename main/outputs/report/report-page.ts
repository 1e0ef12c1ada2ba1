import type { ReactElement } from 'react'

/**
 * A page as its blocks, said once and written twice: `pageHtml` makes a file of its own of it that any browser shows and
 * prints, `pagePdf` a PDF. Figures are the elements of `renderer/figures/`, each an SVG with a view box.
 */
export interface ReportPage {
  readonly title: string
  readonly blocks: readonly Block[]
  /** Small print at the end. */
  readonly foot: readonly string[]
}

export type Block =
  | { readonly kind: 'columns'; readonly columns: readonly Column[] }
  | { readonly kind: 'section'; readonly title: string; readonly blocks: readonly Block[] }
  /** A sentence whose number stands out, with a scale below it. */
  | { readonly kind: 'answer'; readonly sentence: Sentence; readonly scale: ReactElement | null }
  | { readonly kind: 'cards'; readonly cards: readonly Card[] }
  | { readonly kind: 'text'; readonly text: string; readonly tone: 'plain' | 'soft' }
  | { readonly kind: 'figure'; readonly figure: ReactElement; readonly caption: Caption | null }
  /** What the signs of the figure below mean. */
  | { readonly kind: 'legend'; readonly signs: readonly { readonly sign: ReactElement; readonly words: string }[] }
  /** Names on the left, sentences on the right. */
  | { readonly kind: 'facts'; readonly facts: readonly { readonly name: string; readonly text: string }[] }
  | { readonly kind: 'list'; readonly items: readonly string[]; readonly tone: 'plain' | 'soft' }
  | { readonly kind: 'table'; readonly head: readonly string[] | null; readonly rows: readonly (readonly string[])[] }

export interface Column {
  /** Of the width, beside the others'. */
  readonly share: number
  readonly blocks: readonly Block[]
}

export interface Sentence {
  readonly lead: string
  readonly figure: string
  /** Its interval: "± 0.03"; null where there is none. */
  readonly margin: string | null
  /** The rest of the sentence; null: the figure ends it. */
  readonly tail: string | null
  /** What else is to be said, a sentence of its own. */
  readonly more: string | null
}

export interface Card {
  readonly title: string
  /** A sign that says the same as the word. */
  readonly shape: ReactElement | null
  readonly word: string
  readonly scale: ReactElement | null
  readonly text: string
}

export interface Caption {
  readonly title: string
  readonly facts: string
}
