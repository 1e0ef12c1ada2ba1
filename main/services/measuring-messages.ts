import type { Drop } from '../../analysis/drop/drop-test.ts'
import type { RideRecord } from '../library/library.ts'
import type { MeasureClipRequest, Progress } from '../measuring/measured-ride.ts'

/** A measurement as it is ordered from the measuring process. */
export type MeasuringOrder = Omit<MeasureClipRequest, 'signal' | 'onProgress'> & {
  /** What the clip must still be. */
  readonly sha256: string
  /** The weight of a drop test; without it a ride is measured. */
  readonly weight?: { readonly massKg: number; readonly massAtM: number }
}

/** What the measuring process is told. */
export type ToMeasuring = { readonly kind: 'measure'; readonly order: MeasuringOrder } | { readonly kind: 'stop' }

/** What the measuring process tells. After `measured` or `failed` it has nothing more to do. */
export type FromMeasuring =
  | { readonly kind: 'progress'; readonly progress: Progress }
  /** At least one ride, in the order of the clip. */
  | { readonly kind: 'measured'; readonly rides: readonly RideRecord[] }
  /** At least one drop, in the order of the clip. */
  | { readonly kind: 'dropped'; readonly drops: readonly [Drop, ...Drop[]] }
  | { readonly kind: 'failed'; readonly message: string; readonly looksLikeDropTest?: boolean }
