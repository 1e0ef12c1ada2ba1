import type { Progress } from '../measuring/measured-ride.ts'

/** How long the last measurement took, to foretell the next one. */
export interface Pace {
  /** s of wall time for everything before frames are followed. */
  readonly beforeFollowingS: number
  /** s of wall time for each frame that was followed, with what comes after the last one. */
  readonly perFrameS: number
}

/** Frames are counted from then on. */
const FOLLOWING = 'following the board and the dog'
/** Too few frames say nothing yet. */
const LEAST_FRAMES = 12

/**
 * Foretells when a measurement will be done: from its own pace once frames are being followed, before that from the
 * pace of the last one.
 */
export class TimeLeft {
  readonly #last: Pace | null
  readonly #frames: number
  readonly #startS: number
  #followingS: number | null = null

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
  leftS(progress: Progress, nowS: number): number | null {
    const { doing, framesDone, framesTotal } = progress
    if (doing !== FOLLOWING) {
      if (this.#last === null) return null
      const beforeS = Math.max(0, this.#last.beforeFollowingS - (nowS - this.#startS))
      return beforeS + this.#last.perFrameS * this.#frames
    }
    this.#followingS ??= nowS
    const left = Math.max(0, framesTotal - framesDone)
    const ownS = framesDone < LEAST_FRAMES ? null : (nowS - this.#followingS) / framesDone
    const perFrameS = ownS ?? this.#last?.perFrameS ?? null
    return perFrameS === null ? null : perFrameS * left
  }

  /** The pace of the measurement that has just ended; null when it never came to following. */
  pace(nowS: number): Pace | null {
    if (this.#followingS === null || this.#frames === 0) return null
    return {
      beforeFollowingS: this.#followingS - this.#startS,
      perFrameS: (nowS - this.#followingS) / this.#frames,
    }
  }
}
