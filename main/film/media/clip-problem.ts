/** What is wrong with a clip that cannot be read. */
export type ClipProblemCode =
  /** No such file, or it may not be opened. */
  | 'cannot-open'
  | 'empty'
  | 'not-a-video'
  | 'still-picture'
  | 'sound-only'
  /** A playlist or list of other files. */
  | 'points-elsewhere'
  | 'damaged'
  /** Too few pictures a second to measure anything. */
  | 'too-few-pictures'
  /** A real video in a codec that this ffmpeg cannot decode. */
  | 'cannot-decode'
  /** Decoding stood still for too long. */
  | 'too-slow'

/** A clip that cannot be read. The message is one sentence: what is wrong and what to do. */
export class ClipProblem extends Error {
  readonly code: ClipProblemCode
  constructor(code: ClipProblemCode, message: string) {
    super(message)
    this.name = 'ClipProblem'
    this.code = code
  }
}
