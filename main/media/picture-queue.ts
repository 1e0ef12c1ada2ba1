/** A decoded picture as raw bytes, with the container's raw timestamp, s. */
export interface RawPicture {
  readonly bytes: Uint8Array
  readonly rawS: number
  /** How many complaints of the decoder had come before its timestamp. */
  readonly complaints: number
}

/**
 * Cuts a stream of bytes into pictures of one size and joins them with their timestamps, which come by another way.
 * Holds a fixed number of buffers: when all are full, what else comes is kept as it is, and `put` asks the source to wait.
 */
export class PictureQueue {
  private readonly free: Uint8Array[]
  private readonly full: Uint8Array[] = []
  private readonly times: { readonly rawS: number; readonly complaints: number }[] = []
  private complaints = 0
  private filling: Uint8Array | null = null
  private filledBytes = 0
  /** Bytes that found no room. More may come after `put` said stop: Node empties the pipe of a program that has ended. */
  private readonly rest: Uint8Array[] = []
  private hasEnded = false
  private wake: () => void = () => undefined

  constructor(pictureBytes: number, capacity: number) {
    this.free = Array.from({ length: capacity }, () => new Uint8Array(pictureBytes))
  }

  /** @returns false when there is no room: the source should wait until `giveBack` returns true */
  put(chunk: Uint8Array): boolean {
    if (this.rest.length > 0) {
      this.rest.push(chunk)
      return false
    }
    let at = 0
    while (at < chunk.length) {
      this.filling ??= this.free.pop() ?? null
      if (this.filling === null) {
        this.rest.push(chunk.subarray(at))
        return false
      }
      const bytes = Math.min(chunk.length - at, this.filling.length - this.filledBytes)
      this.filling.set(chunk.subarray(at, at + bytes), this.filledBytes)
      this.filledBytes += bytes
      at += bytes
      if (this.filledBytes === this.filling.length) {
        this.full.push(this.filling)
        this.filling = null
        this.filledBytes = 0
        this.wake()
      }
    }
    return true
  }

  putTime(rawS: number): void {
    this.times.push({ rawS, complaints: this.complaints })
    this.wake()
  }

  /** The decoder complained about a picture whose timestamp has not come yet. */
  putComplaint(): void {
    this.complaints++
  }

  /** No more bytes or times will come. */
  end(): void {
    this.hasEnded = true
    this.wake()
  }

  /** The next picture, or null after the last. One caller at a time. */
  async take(): Promise<RawPicture | null> {
    for (;;) {
      if (this.full.length > 0 && this.times.length > 0) {
        return { bytes: this.full.shift()!, ...this.times.shift()! }
      }
      if (this.hasEnded) return null
      await new Promise<void>((resolve) => (this.wake = resolve))
    }
  }

  /** Hands a buffer back for reuse. @returns true when there is room again for more bytes */
  giveBack(bytes: Uint8Array): boolean {
    this.free.push(bytes)
    for (const chunk of this.rest.splice(0)) this.put(chunk)
    return this.rest.length === 0
  }
}
