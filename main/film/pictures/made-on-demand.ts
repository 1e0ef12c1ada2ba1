import type { FrameJpeg } from './frame-jpegs.ts'

/** Makes given frames of a clip, rising indices, in one go. */
export type MakeJpegs = (clipId: string, indices: readonly number[], signal: AbortSignal) => AsyncIterable<FrameJpeg>

interface Want {
  readonly clipId: string
  readonly index: number
  readonly signal: AbortSignal
  readonly settle: (jpeg: Buffer | null) => void
  readonly fail: (reason: Error) => void
}

/**
 * Pictures made when they are asked for, one ffmpeg at a time. The newest wish goes first; what is asked for of one
 * clip at the same time is made together; what nobody wants any more is not made. The latest ones stay in memory.
 */
export class MadeOnDemand {
  readonly #make: MakeJpegs
  readonly #together: (clipId: string, newest: number, wanted: readonly number[]) => readonly number[]
  readonly #keep: number
  readonly #made = new Map<string, Buffer>()
  #wants: Want[] = []
  #running: { readonly clipId: string; readonly indices: ReadonlySet<number>; readonly stop: AbortController } | null =
    null

  /**
   * @param together which frames to make in one go when `newest` is the latest of those that are `wanted`; rising
   * @param keep how many pictures stay in memory
   */
  constructor(
    make: MakeJpegs,
    together: (clipId: string, newest: number, wanted: readonly number[]) => readonly number[],
    keep: number,
  ) {
    this.#make = make
    this.#together = together
    this.#keep = keep
  }

  /** One picture; null where the clip is damaged. Rejects with the signal's reason, or with what making it threw. */
  get(clipId: string, index: number, signal: AbortSignal): Promise<Buffer | null> {
    const made = this.#recall(clipId, index)
    if (made !== null) return Promise.resolve(made)
    return new Promise((resolve, reject) => {
      signal.throwIfAborted()
      const onAbort = () => {
        this.#wants = this.#wants.filter((other) => other !== want)
        this.#stopUnwanted()
        reject(asError(signal.reason))
      }
      const done = () => signal.removeEventListener('abort', onAbort)
      const want: Want = {
        clipId,
        index,
        signal,
        settle: (jpeg) => {
          done()
          resolve(jpeg)
        },
        fail: (reason) => {
          done()
          reject(reason)
        },
      }
      signal.addEventListener('abort', onAbort, { once: true })
      this.#wants.push(want)
      void this.#work()
    })
  }

  /** Forgets a clip's pictures, because the clip is gone. */
  forget(clipId: string): void {
    for (const key of this.#made.keys()) if (key.startsWith(`${clipId}/`)) this.#made.delete(key)
  }

  async #work(): Promise<void> {
    if (this.#running !== null) return
    for (let newest = this.#wants.at(-1); newest !== undefined; newest = this.#wants.at(-1)) {
      const { clipId } = newest
      const wanted = this.#wants.filter((want) => want.clipId === clipId).map((want) => want.index)
      const indices = this.#together(clipId, newest.index, wanted)
      await this.#makeTogether(clipId, indices)
    }
  }

  async #makeTogether(clipId: string, indices: readonly number[]): Promise<void> {
    const stop = new AbortController()
    this.#running = { clipId, indices: new Set(indices), stop }
    try {
      for await (const { index, jpeg } of this.#make(clipId, indices, stop.signal)) {
        this.#remember(clipId, index, jpeg)
        this.#take(clipId, new Set([index])).forEach((want) => want.settle(jpeg))
      }
      this.#take(clipId, new Set(indices)).forEach((want) => want.settle(null))
    } catch (error) {
      // A wish that came in after its frame had been given up is served by the next round.
      if (!stop.signal.aborted) this.#take(clipId, new Set(indices)).forEach((want) => want.fail(asError(error)))
    } finally {
      this.#running = null
    }
  }

  #take(clipId: string, indices: ReadonlySet<number>): Want[] {
    const isMeant = (want: Want) => want.clipId === clipId && indices.has(want.index)
    const taken = this.#wants.filter(isMeant)
    this.#wants = this.#wants.filter((want) => !isMeant(want))
    return taken
  }

  #stopUnwanted(): void {
    const running = this.#running
    if (running === null) return
    const wanted = this.#wants.some((want) => want.clipId === running.clipId && running.indices.has(want.index))
    if (!wanted) running.stop.abort()
  }

  #recall(clipId: string, index: number): Buffer | null {
    const key = `${clipId}/${index}`
    const jpeg = this.#made.get(key)
    if (jpeg === undefined) return null
    this.#made.delete(key)
    this.#made.set(key, jpeg)
    return jpeg
  }

  #remember(clipId: string, index: number, jpeg: Buffer): void {
    const key = `${clipId}/${index}`
    this.#made.delete(key)
    this.#made.set(key, jpeg)
    for (const oldest of this.#made.keys()) {
      if (this.#made.size <= this.#keep) return
      this.#made.delete(oldest)
    }
  }
}

function asError(reason: unknown): Error {
  return reason instanceof Error ? reason : new Error(String(reason))
}
