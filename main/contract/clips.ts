import { z } from 'zod'
import { BOARD_LIMITS } from '../../analysis/board/board-limits.ts'
import { FRAME_LIMITS, POINT_LIMITS_PX } from '../../analysis/board/marks-limits.ts'
import { TEST_WEIGHT_KG } from '../../analysis/drop/drop-test.ts'
import type { MarksProposal, MarksSearch } from '../../analysis/finding/marks-offer.ts'
import type { MarksDraft } from '../../analysis/marking/marks-draft.ts'
import { SLOW_MOTION_LIMITS, type SlowMotion } from '../../analysis/clip/slow-motion.ts'

const coordinatePx = z.number().min(POINT_LIMITS_PX.min).max(POINT_LIMITS_PX.max)
const pointPx = z.object({ xPx: coordinatePx, yPx: coordinatePx })
const frameIndex = z.number().int().min(FRAME_LIMITS.min).max(FRAME_LIMITS.max)

export const marksDraft: z.ZodType<MarksDraft> = z.object({
  rest: z
    .object({
      frame: frameIndex,
      entryEnd: pointPx.nullable(),
      exitEnd: pointPx.nullable(),
      pivot: pointPx.nullable(),
      upContactEdge: pointPx.nullable(),
      downContactEdge: pointPx.nullable(),
    })
    .nullable(),
  grounded: z.object({ frame: frameIndex, entryEnd: pointPx.nullable(), exitEnd: pointPx.nullable() }).nullable(),
  neverLands: z.boolean(),
})
export type { MarksDraft, MarksProposal, MarksSearch }

/** The weight of a drop test. */
const testWeight = z.object({
  massKg: z.number().min(TEST_WEIGHT_KG.min).max(TEST_WEIGHT_KG.max),
  /** Along the plank from the entry end, m; null: in the middle of the down contact. */
  atM: z.number().min(0).max(BOARD_LIMITS.lengthM.max).nullable(),
})
export type TestWeight = z.infer<typeof testWeight>

/** UK and FCI test with 1 kg in the middle of the down contact. */
export const USUAL_WEIGHT: TestWeight = { massKg: 1, atM: null }

/** What the handler says of a clip before it is measured. */
export const clipSetup = z.object({
  /** The stretch to measure, both frames included; null: the whole clip. */
  stretch: z.object({ fromFrame: frameIndex, toFrame: frameIndex }).nullable(),
  /** Which way the dog crosses in the picture; null: not said yet. */
  travel: z.enum(['to-right', 'to-left']).nullable(),
  /** Capture rate / stored rate; null: as found from the clip. */
  slowMotion: z.number().min(SLOW_MOTION_LIMITS.min).max(SLOW_MOTION_LIMITS.max).nullable(),
  dogId: z.string().nullable(),
  boardId: z.string().nullable(),
  /** A few words of the handler's own: "second run, windy". */
  title: z.string().max(120),
  /** The clip shows a drop test with this weight, and no dog. */
  weight: testWeight.exactOptional(),
})
export type ClipSetup = z.infer<typeof clipSetup>

/** What the file itself says. */
export interface ClipFacts {
  readonly fileName: string
  readonly sha256: string
  /** As displayed, full resolution. */
  readonly widthPx: number
  readonly heightPx: number
  readonly frameCount: number
  /** The file's own time (not divided by the slow-motion factor). */
  readonly fileDurationS: number
  readonly averageRateHz: number
  readonly hasSound: boolean
  /** Things worth knowing about the file, a sentence each. */
  readonly notes: readonly string[]
}

/** How far the pictures of a clip are ready for stepping through; until then single frames come slowly. */
export type PicturesState =
  | { readonly kind: 'none' }
  | { readonly kind: 'preparing'; readonly framesDone: number; readonly framesTotal: number }
  | { readonly kind: 'ready' }

/** How far a clip is on its way to a ride. */
export type ClipStage = 'to-set-up' | 'to-mark' | 'to-measure' | 'measuring' | 'measured'

/** A clip in a list. */
export interface ClipCard {
  readonly id: string
  readonly fileName: string
  readonly title: string
  /** ISO 8601, when it was taken into the library. */
  readonly takenInAt: string
  readonly stage: ClipStage
  readonly dogName: string | null
  readonly boardName: string | null
  /** The clip's file is no longer where it was. */
  readonly isMissing: boolean
  /** The name of the bundled sample clip that this is; null for the handler's own. */
  readonly sample: string | null
  readonly rideIds: readonly string[]
  /** The board whose drop test was measured in this clip. */
  readonly dropOnBoardId?: string
}

/** Everything about one clip. */
export interface ClipDetail {
  readonly card: ClipCard
  readonly facts: ClipFacts
  /** Timestamp of each frame in display order, s of the file's own time, the first = 0. */
  readonly frameTimesS: readonly number[]
  /** What tags and evidence say about slow motion; `setup.slowMotion` overrides it. */
  readonly slowMotion: SlowMotion
  readonly setup: ClipSetup
  readonly marks: MarksDraft
  readonly pictures: PicturesState
}
