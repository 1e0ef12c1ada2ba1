import type { Progress } from '../measuring/measured-ride.ts'

/** How long the last measurement took, to foretell the next one. */
export interface Pace {
  /** s of wall time for everything before frames are followed. */
  readonly beforeFollowingS: number
  /** s of wall time for each frame that is followed. */
  readonly perFrameS: number
}

/** Too few frames say nothing yet. */
const LEAST_FRAMES = 12
/** Finding the dog's feet and the events afterwards takes about a third of the time that following takes. */
const AFTERWARDS = 0.35

/**
 * Foretells when a measurement will be done: from its own pace once frames are being followed, before that from the
 * pace of the last one.
 */
export class TimeLeft {
  readonly #last: Pace | null
  readonly #frames: number
  readonly #startS: number
  #followingFromS: number | null = null
  #pace: Pace | null = null

  /**
   * @param last pace of an earlier measurement; null: none was made yet
   * @param frames how many frames are likely to be followed
   * @param nowS the clock when the measurement began, s
   */
  constructor(last: Pace | null, frames: number, nowS: number) {
    this.#last = last
    this.#frames = frames
    this.#startS = nowS
  }

  /** s of wall time until all is done; null while it cannot be told. */
  leftS({ step, framesDone, framesTotal }: Progress, nowS: number): number | null {
    if (step !== 'following') {
      this.#followingFromS = null
      if (this.#last === null) return null
      const beforeS = Math.max(0, this.#last.beforeFollowingS - (nowS - this.#startS))
      return beforeS + (1 + AFTERWARDS) * this.#last.perFrameS * this.#frames
    }
    if (this.#followingFromS === null || framesDone <= 1) this.#followingFromS = nowS
    if (framesDone >= LEAST_FRAMES) {
      this.#pace = {
        beforeFollowingS: this.#pace?.beforeFollowingS ?? this.#followingFromS - this.#startS,
        perFrameS: (nowS - this.#followingFromS) / framesDone,
      }
    }
    const perFrameS = this.#pace?.perFrameS ?? this.#last?.perFrameS ?? null
    if (perFrameS === null) return null
    return perFrameS * (Math.max(0, framesTotal - framesDone) + AFTERWARDS * framesTotal)
  }

  /** The pace of this measurement; null when it never came to following. */
  get pace(): Pace | null {
    return this.#pace
  }
}
