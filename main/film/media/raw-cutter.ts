import type { PictureCutter } from './picture-queue.ts'

/**
 * Cuts a stream of bytes into pictures of one size. Holds a fixed number of buffers: when all are full, what else comes
 * is kept as it is, and `put` asks the source to wait.
 */
export class RawCutter implements PictureCutter<Uint8Array> {
  readonly #free: Uint8Array[]
  readonly #full: Uint8Array[] = []
  #filling: Uint8Array | null = null
  #filledBytes = 0
  /** Bytes that found no room. More may come after `put` said stop: Node empties the pipe of a program that has ended. */
  readonly #rest: Uint8Array[] = []

  constructor(pictureBytes: number, capacity: number) {
    this.#free = Array.from({ length: capacity }, () => new Uint8Array(pictureBytes))
  }

  put(chunk: Uint8Array): boolean {
    if (this.#rest.length > 0) {
      this.#rest.push(chunk)
      return false
    }
    let at = 0
    while (at < chunk.length) {
      this.#filling ??= this.#free.pop() ?? null
      if (this.#filling === null) {
        this.#rest.push(chunk.subarray(at))
        return false
      }
      const bytes = Math.min(chunk.length - at, this.#filling.length - this.#filledBytes)
      this.#filling.set(chunk.subarray(at, at + bytes), this.#filledBytes)
      this.#filledBytes += bytes
      at += bytes
      if (this.#filledBytes === this.#filling.length) {
        this.#full.push(this.#filling)
        this.#filling = null
        this.#filledBytes = 0
      }
    }
    return true
  }

  take(): Uint8Array | null {
    return this.#full.shift() ?? null
  }

  giveBack(bytes: Uint8Array): boolean {
    this.#free.push(bytes)
    for (const chunk of this.#rest.splice(0)) this.put(chunk)
    return this.#rest.length === 0
  }
}
