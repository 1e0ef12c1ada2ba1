import type { Job } from '../contract/jobs.ts'
import type { OnProgress } from '../measuring/measured-ride.ts'

/** How far an evening's clips are, as one line: clips done, and the frames of those that are being measured. */
export class AddProgress {
  readonly #clips: number
  readonly #onProgress: OnProgress
  readonly #running = new Map<string, { readonly framesDone: number; readonly framesTotal: number }>()
  #settled = 0
  #looking: string | null = null

  constructor(clips: number, onProgress: OnProgress) {
    this.#clips = clips
    this.#onProgress = onProgress
  }

  /** A clip is being looked through for its plank. */
  looking(fileName: string): void {
    this.#looking = fileName
    this.#tell()
  }

  job({ id, state }: Job): void {
    if (state.kind === 'running') this.#running.set(id, state)
    else this.#running.delete(id)
    this.#tell()
  }

  /** A clip has come to its end, whichever. */
  settled(): void {
    this.#settled++
    this.#tell()
  }

  #tell(): void {
    const done = `${this.#settled} of ${this.#clips} clips done`
    const frames = [...this.#running.values()].reduce(
      (sum, { framesDone, framesTotal }) => ({ done: sum.done + framesDone, total: sum.total + framesTotal }),
      { done: 0, total: 0 },
    )
    if (this.#running.size > 0) {
      const doing = `${done}, measuring ${this.#running.size}`
      this.#onProgress({ step: 'following', doing, framesDone: frames.done, framesTotal: frames.total })
    } else if (this.#looking !== null && this.#settled < this.#clips) {
      const doing = `${done}, looking for the plank in ${this.#looking}`
      this.#onProgress({ step: 'looking', doing, framesDone: 0, framesTotal: 0 })
    }
  }
}
