import type { BoardTrack } from '../../analysis/board/board-track.ts'
import type { Board } from '../../analysis/board/board.ts'
import type { Marks } from '../../analysis/board/marks.ts'
import type { ClipOrigins } from '../../analysis/clip/frame.ts'
import type { Calibration } from '../../analysis/calibration/seesaw-camera.ts'
import type { DogTrack } from '../../analysis/dog/dog-track.ts'
import type { Drop, DropTestFile } from '../../analysis/drop/drop-test.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import type { Outline } from '../../analysis/silhouette/outline.ts'
import type { MediaFfmpeg, ProbedClip } from '../film/media/probed-clip.ts'

/** A ride with what it takes to prove it on the clip's own pictures and to correct it. */
export interface MeasuredRide {
  readonly ride: Ride
  /** The curves that the ride was computed from, one element a frame of the ride. */
  readonly dog: DogTrack
  readonly track: BoardTrack
  readonly picture: RidePicture
}

/** A drop with what it takes to prove it on the clip's own pictures. */
export interface MeasuredDrop {
  readonly drop: Drop
  readonly picture: BoardPicture
  readonly source: ClipSource
}

/** The clip as it was opened, so that its frames can be read again for pictures. */
export interface ClipSource {
  readonly clip: ProbedClip
  readonly ffmpeg: MediaFfmpeg
}

/** Where the board stood in every frame of one ride or drop: parallel arrays, one element a frame. */
export interface BoardPicture {
  readonly board: Board
  readonly calibration: Calibration
  /** Zero-based index in display order within the whole clip. */
  readonly frameIndex: Int32Array
  /** s of real time; the same as `frames.ptsS` of the ride or drop. */
  readonly ptsS: Float64Array
  /** rad, 0 level; NaN where the plank was not followed. */
  readonly angleRad: Float64Array
  /** 3x3 homographies, row by row: from image px of the marks' rest frame to image px of this frame; NaN if not known. */
  readonly cameraMotion: readonly Float64Array[]
}

export interface RidePicture extends BoardPicture {
  /** The dog's outline in each frame; null where it is not known. */
  readonly outlines: readonly (Outline | null)[]
  /** null for a clip without sound. */
  readonly sound: SoundEnvelope | null
}

/** A ride with what it takes to draw it: of the calibration only the best camera. */
export interface ShownRide {
  readonly ride: Ride
  readonly picture: ShownPicture
}

export type ShownPicture = Omit<RidePicture, 'calibration'> & { readonly calibration: Pick<Calibration, 'best'> }

export type ShownBoard = Omit<BoardPicture, 'calibration'> & { readonly calibration: Pick<Calibration, 'best'> }

/** Loudness through the clip, evenly spaced. */
export interface SoundEnvelope {
  /** Time of the first value, s of real time, on the clip's own timeline. */
  readonly startS: number
  readonly rateHz: number
  /** 0 = silence, 1 = the loudest the file can hold. */
  readonly level: Float32Array
}

/** How far a measurement has come; called often. */
export type OnProgress = (progress: Progress) => void

export type ProgressStep = 'reading' | 'looking' | 'following' | 'drawing'

export interface Progress {
  readonly step: ProgressStep
  /** What is going on, for people: "following the board". */
  readonly doing: string
  /** Frames done and to do in this step; 0 to do where frames are not counted. */
  readonly framesDone: number
  readonly framesTotal: number
}

/** Why nothing was measured, for the exit code and the sentence that goes with it. */
export type Failure =
  /** The marks do not fit the clip, for instance a frame beyond its end. */
  | { readonly kind: 'bad-marks'; readonly detail: string }
  | { readonly kind: 'unreadable'; readonly detail: string }
  /** The clip was read, and there is nothing in it that could be measured. */
  | {
      readonly kind: 'nothing'
      readonly detail: string
      /** No dog, but the board came down under something that was laid on it. */
      readonly looksLikeDropTest?: boolean
    }

export interface MeasureClipRequest {
  readonly clipPath: string
  readonly marks: Marks
  readonly board: Board
  /** Where both come from, for the ride's record. */
  readonly origins?: ClipOrigins
  /** Capture rate / stored rate; found from the clip if absent. */
  readonly slowMotion?: number
  /** Only this part of the clip, s of real time. */
  readonly fromS?: number
  readonly toS?: number
  /** The same by frames, both included, display order; overrides `fromS` and `toS`. */
  readonly stretch?: { readonly fromFrame: number; readonly toFrame: number }
  /** Aborted: the measurement stops at once and throws the signal's reason. */
  readonly signal: AbortSignal
  readonly onProgress: OnProgress
}

/** `rides` has at least one element, in the order of the clip. */
export type ClipOutcome =
  { readonly kind: 'measured'; readonly rides: readonly MeasuredRide[]; readonly source: ClipSource } | Failure

export interface MeasureDropsRequest {
  readonly drops: readonly DropRequest[]
  readonly board: Board
  /** Where marks and board come from; a board that nobody measured is told with the drops. */
  readonly origins?: ClipOrigins
  readonly signal: AbortSignal
  readonly onProgress: OnProgress
}

export interface DropRequest {
  readonly clipPath: string
  readonly marks: Marks
  readonly massKg: number
  /** Along the plank from the entry end. */
  readonly massAtM: number
}

/** `drops` in the order of the request. */
export type DropsOutcome =
  | {
      readonly kind: 'measured'
      readonly drops: readonly MeasuredDrop[]
      readonly physics: DropTestFile['physics']
    }
  | Failure
