import type { VideoTrack } from './probed-clip.ts'

/**
 * True for a line of ffmpeg's log by which a decoder says that a picture is not what was filmed. For H.264 the line that
 * tells of concealing comes with every slice that does not end where it should, which no error line does.
 */
export function saysDamage(line: string): boolean {
  if (/\] \[\w+\] concealing \d+ DC/.test(line) || /corrupt decoded frame/.test(line)) return true
  if (/Error while decoding stream|Error submitting packet to decoder/.test(line)) return true
  return DECODER_ERROR.test(line) && !HARMLESS.test(line)
}

const DECODER_ERROR =
  /^\[(?:h264|hevc|vp8|vp9|av1|libdav1d|libaom-av1|mpeg4|mjpeg|mpeg2video|h263|vc1) @ [^\]]*\] \[(?:error|fatal)\]/

/** What decoders say of sound clips: after a jump into the middle, and of cameras that keep the standard loosely. */
const HARMLESS =
  /mmco: unref short failure|number of reference frames .* exceeds max|co located POCs unavailable|Missing reference picture|reference picture missing|illegal short term buffer state|Reinit context/i

/** Frames that may be on their way through the decoder beside those that its threads hold: H.264's usual reordering. */
const REORDERED_FRAMES = 4

/**
 * Which frames of a run of decoding are damaged. A decoder works some frames ahead of what it hands out, so a complaint
 * is about one of the next frames; and every frame up to the next key frame after it builds on that one.
 */
export class DamageMarker {
  readonly #video: VideoTrack
  readonly #aheadFrames: number
  #complaintsHeard = 0
  /** Frames before this index are damaged. */
  #soundFrom = 0
  #lastIndex: number | null = null

  /** @param threads of the decoder */
  constructor(video: VideoTrack, threads: number) {
    this.#video = video
    this.#aheadFrames = threads + REORDERED_FRAMES
  }

  /**
   * Takes the next frame that came out.
   *
   * @param complaints how many there were before it came
   * @param isNextDue true when every frame is wanted: one left out is damage
   */
  isDamaged(index: number, complaints: number, isNextDue: boolean): boolean {
    const isGap = isNextDue && this.#lastIndex !== null && index > this.#lastIndex + 1
    if (complaints > this.#complaintsHeard || isGap) {
      const { isKeyFrame } = this.#video
      const key = isKeyFrame.indexOf(1, index + this.#aheadFrames)
      this.#soundFrom = Math.max(this.#soundFrom, key < 0 ? isKeyFrame.length : key)
    }
    this.#complaintsHeard = complaints
    this.#lastIndex = index
    return index < this.#soundFrom
  }
}
