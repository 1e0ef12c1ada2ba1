import type { ImagePx } from '../geometry/points.ts'

/** What the user clicked (`marks/1`): points on the top edge nearest the camera, full-resolution image px. */
export interface Marks {
  readonly clip: string
  readonly rest: RestMarks
  /** Absent if the exit end never lands in the clip. */
  readonly grounded?: GroundedMarks
}

export interface RestMarks {
  /** Zero-based, display order; authoritative. */
  readonly frame: number
  readonly entryEnd: ImagePx
  readonly exitEnd: ImagePx
  readonly pivot: ImagePx
  readonly upContactEdge: ImagePx
  readonly downContactEdge: ImagePx
}

export interface GroundedMarks {
  readonly frame: number
  readonly entryEnd: ImagePx
  readonly exitEnd: ImagePx
}
