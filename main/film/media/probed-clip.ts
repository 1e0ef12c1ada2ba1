import type { FfmpegChoice } from '../engines/ffmpeg-choice.ts'
import type { ContainerFormat } from './container-format.ts'

/** The part of the chosen ffmpeg that reading clips needs. No ffprobe is used. */
export type MediaFfmpeg = Pick<FfmpegChoice, 'ffmpegPath' | 'features'>

/** Everything that reading a clip has to know about its file. Times are the file's own (not divided by a slow-motion factor). */
export interface ProbedClip {
  /** Absolute path. */
  readonly path: string
  readonly fileName: string
  readonly sha256: string
  readonly format: ContainerFormat
  readonly video: VideoTrack
  readonly sound: SoundTrack | null
  /** Container and video track tags, names in lower case. */
  readonly tags: ReadonlyMap<string, string>
  /** Things a user should know about the file, a sentence each: cut short, damaged in places. */
  readonly notes: readonly string[]
}

export interface VideoTrack {
  /** As displayed: after the rotation flag, with square pixels, full resolution. */
  readonly widthPx: number
  readonly heightPx: number
  /** False when the stored pixels are not square, so that pictures have to be stretched. */
  readonly isSquare: boolean
  /** True when black is stored as 0 and white as 255, false for the usual 16-235. Decoded frames are always 16-235. */
  readonly isFullRange: boolean
  /** How far the stored picture is turned clockwise for display: 0, 90, 180 or 270 (any angle below 360 if the file says so). */
  readonly rotationDeg: number
  /** ffmpeg's name: h264, hevc, vp9. */
  readonly codec: string
  readonly pixelFormat: string
  readonly bitDepth: number
  /** Timestamp of each frame in display order, s, strictly rising, the first = 0. */
  readonly fileTimesS: Float64Array
  /** 1 where decoding can start. */
  readonly isKeyFrame: Uint8Array
  /** From the first frame's timestamp to the end of the last frame's display, s. */
  readonly fileDurationS: number
  /** Frames per second of the file's own time: (frames - 1) / time between first and last. */
  readonly averageRateHz: number
  /** What the container states as frame rate; null when it does not say. */
  readonly statedRateHz: number | null
  /** Index of the track in the file, for ffmpeg. */
  readonly streamIndex: number
  /** The container's raw timestamp of the first frame, s. */
  readonly firstRawS: number
}

export interface SoundTrack {
  readonly streamIndex: number
  readonly codec: string
  readonly rateHz: number
  /** Start of the sound in the file's own time, s, first video frame = 0. */
  readonly startFileS: number
  readonly fileDurationS: number
}
