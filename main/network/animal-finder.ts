import type { TensorBackendChoice } from './tensor-backend.ts'

/** A picture as rows of red, green and blue bytes. */
export interface RgbPicture {
  readonly rgb: Uint8Array
  readonly widthPx: number
  readonly heightPx: number
}

/**
 * Something that the network sees. Dogs are often taken for other four-legged animals, so a box that looks like several
 * kinds is reported once: `what` is its likeliest kind, `dogScore` what the network gives it as a dog.
 */
export interface Finding {
  readonly what: 'dog' | 'animal' | 'person'
  /** The network's word for the likeliest kind: 'dog', 'person', 'cat', 'horse', 'sheep', 'cow', 'bear'. */
  readonly label: string
  /** 0-1, the network's own confidence in `label`; no probability. */
  readonly score: number
  readonly dogScore: number
  /** In px of the picture given: left, top, right, bottom, cut at its border. */
  readonly box: PictureBox
}

export interface PictureBox {
  readonly x0Px: number
  readonly y0Px: number
  readonly x1Px: number
  readonly y1Px: number
}

/** Finds dogs, other animals and people in single pictures. */
export interface AnimalFinder {
  readonly backend: TensorBackendChoice
  /** Findings from the surest to the least sure, none below a score of 0.1. Pictures queue up; each takes about 0.1 s. */
  find(picture: RgbPicture): Promise<Finding[]>
  /** Stops the finder at once; a picture still waiting is rejected. */
  close(): Promise<void>
}

/** Without a finder a measurement goes on with motion alone. */
export type FinderOutcome =
  { readonly kind: 'open'; readonly finder: AnimalFinder } | { readonly kind: 'unavailable'; readonly why: string }
