/** Cuts a stream of bytes into pictures. */
export interface PictureCutter<Picture> {
  /** Takes more bytes; all of them are kept. @returns false when there is no room for more: the source should wait */
  put(chunk: Buffer): boolean
  /** The next whole picture; null while there is none. */
  take(): Picture | null
  /** The picture that was taken is no longer needed. @returns true when there is room for more bytes again */
  giveBack(picture: Picture): boolean
}

/** A picture with the container's raw timestamp, s. */
export interface TimedPicture<Picture> {
  readonly picture: Picture
  readonly rawS: number
  /** How many complaints of the decoder had come before its timestamp. */
  readonly complaints: number
}

/** Joins pictures, which are cut from a stream, with their timestamps, which come by another way. */
export class PictureQueue<Picture> {
  readonly #cutter: PictureCutter<Picture>
  readonly #times: { readonly rawS: number; readonly complaints: number }[] = []
  #complaints = 0
  #hasEnded = false
  #wake: () => void = () => undefined

  constructor(cutter: PictureCutter<Picture>) {
    this.#cutter = cutter
  }

  /** @returns false when there is no room: the source should wait until `giveBack` returns true */
  put(chunk: Buffer): boolean {
    const hasRoom = this.#cutter.put(chunk)
    this.#wake()
    return hasRoom
  }

  putTime(rawS: number): void {
    this.#times.push({ rawS, complaints: this.#complaints })
    this.#wake()
  }

  /** The decoder complained about a picture whose timestamp has not come yet. */
  putComplaint(): void {
    this.#complaints++
  }

  /** No more bytes or times will come. */
  end(): void {
    this.#hasEnded = true
    this.#wake()
  }

  /** The next picture, or null after the last. One caller at a time. */
  async take(): Promise<TimedPicture<Picture> | null> {
    for (;;) {
      const picture = this.#times.length > 0 ? this.#cutter.take() : null
      if (picture !== null) return { picture, ...this.#times.shift()! }
      if (this.#hasEnded) return null
      await new Promise<void>((resolve) => (this.#wake = resolve))
    }
  }

  /** @returns true when there is room again for more bytes */
  giveBack(picture: Picture): boolean {
    return this.#cutter.giveBack(picture)
  }
}
