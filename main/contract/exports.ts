import { z } from 'zod'

const rideId = z.string().min(1).max(64)

/** How large the film of a pack is, longer side, px. */
export const FILM_SIZES = { small: 640, medium: 960, large: 1280 } as const
export type FilmSize = keyof typeof FILM_SIZES
const filmSize = z.enum(['small', 'medium', 'large'])

/** What is drawn on an exported film. */
const filmOverlays = z.object({ plank: z.boolean(), zones: z.boolean(), paws: z.boolean(), dog: z.boolean() })
export type FilmOverlays = z.infer<typeof filmOverlays>

/** What a ride can be saved as. */
export const exportOrder = z.discriminatedUnion('what', [
  z.object({ what: z.literal('report-html'), rideId }),
  z.object({ what: z.literal('report-pdf'), rideId }),
  /** The frame nearest to a time of the ride, s. */
  z.object({ what: z.literal('still'), rideId, atS: z.number().min(0).max(100_000), overlays: filmOverlays }),
  z.object({
    what: z.literal('clip'),
    rideId,
    overlays: filmOverlays,
    /** A quarter of the pace around tip and landing. */
    isSlowed: z.boolean(),
    hasTitle: z.boolean(),
    hasSound: z.boolean(),
  }),
  z.object({ what: z.literal('numbers-csv'), rideId }),
  z.object({ what: z.literal('numbers-json'), rideId }),
  z.object({ what: z.literal('comments'), rideId }),
  z.object({
    what: z.literal('pack'),
    rideId,
    size: filmSize,
    hasSound: z.boolean(),
    /** The handler's name, as the coach will see it. */
    name: z.string().trim().min(1).max(80),
  }),
  z.object({ what: z.literal('reply'), packId: z.string().min(1).max(64) }),
])
export type ExportOrder = z.infer<typeof exportOrder>
export type ExportWhat = ExportOrder['what']

/** A file that is being made, or lies ready to be saved. */
export interface Export {
  readonly id: string
  readonly what: ExportWhat
  readonly state: ExportState
}

export type ExportState =
  | { readonly kind: 'running'; readonly doing: string; readonly shareDone: number | null }
  /** `contains`: what is in the file, a line each. */
  | { readonly kind: 'ready'; readonly fileName: string; readonly bytes: number; readonly contains: readonly string[] }
  | { readonly kind: 'stopped' }
  | { readonly kind: 'failed'; readonly message: string }

/** The path under which a host gives a file that lies ready. */
export function exportPath(exportId: string): string {
  return `/exports/${encodeURIComponent(exportId)}`
}
