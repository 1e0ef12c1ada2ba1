import type { Finding, RgbPicture } from './animal-finder.ts'
import type { TensorBackendChoice } from './tensor-backend.ts'

/** From the main thread to the finder's thread. */
export interface FindRequest {
  readonly id: number
  readonly picture: RgbPicture
}

/** From the finder's thread to the main thread: once `ready` or `unavailable`, then one answer a request. */
export type FinderMessage =
  | { readonly kind: 'ready'; readonly backend: TensorBackendChoice }
  | { readonly kind: 'unavailable'; readonly why: string }
  | { readonly kind: 'found'; readonly id: number; readonly findings: Finding[] }
  | { readonly kind: 'failed'; readonly id: number; readonly why: string }
