import type { LibraryProblem } from './library-problem.ts'

/** Changes one after another, in the order in which they were asked for. */
export class ChangeQueue {
  #last: Promise<unknown> = Promise.resolve()
  #closed: LibraryProblem | null = null
  #lost: LibraryProblem | null = null

  /** Runs `work` after all that was asked for before. */
  run<T>(work: () => Promise<T>): Promise<T> {
    const refusal = this.#closed ?? this.#lost
    if (refusal !== null) return Promise.reject(refusal)
    const done = this.#last.then(() => {
      if (this.#lost !== null) throw this.#lost
      return work()
    })
    this.#last = done.catch(() => undefined)
    return done
  }

  /** Refuses what comes from now on; fulfilled when all that was asked for before is done. */
  async close(refusal: LibraryProblem): Promise<void> {
    this.#closed ??= refusal
    await this.#last
  }

  /** Refuses everything that has not begun: the folder is no longer ours. */
  lose(refusal: LibraryProblem): void {
    this.#lost = refusal
  }

  get isLost(): boolean {
    return this.#lost !== null
  }
}
