/**
 * Cuts ffmpeg's stream of JPEG files apart. Each comes as a part of a multipart stream, after headers that tell its
 * length: nothing has to be guessed from the pictures' own bytes.
 */
export class JpegParts {
  #held: Buffer[] = []
  #heldBytes = 0
  /** Length of the picture that is coming; null while its headers are. */
  #lengthBytes: number | null = null

  /** Takes more of the stream; gives the pictures that are whole now. */
  put(chunk: Buffer): Buffer[] {
    this.#held.push(chunk)
    this.#heldBytes += chunk.length
    const whole: Buffer[] = []
    for (let next = this.#next(); next !== null; next = this.#next()) whole.push(next)
    return whole
  }

  #next(): Buffer | null {
    if (this.#lengthBytes === null) {
      const bytes = this.#joined()
      const end = bytes.indexOf(HEADERS_END)
      if (end < 0) return null
      const length = /content-length: *(\d+)/i.exec(bytes.toString('latin1', 0, end))?.[1]
      if (length === undefined) throw new Error('ffmpeg wrote a picture without saying how long it is.')
      this.#lengthBytes = Number(length)
      this.#keep(bytes.subarray(end + HEADERS_END.length))
    }
    if (this.#heldBytes < this.#lengthBytes) return null
    const bytes = this.#joined()
    const picture = bytes.subarray(0, this.#lengthBytes)
    this.#keep(bytes.subarray(this.#lengthBytes))
    this.#lengthBytes = null
    return picture
  }

  #joined(): Buffer {
    if (this.#held.length !== 1) this.#keep(Buffer.concat(this.#held))
    return this.#held[0]!
  }

  #keep(bytes: Buffer): void {
    this.#held = [bytes]
    this.#heldBytes = bytes.length
  }
}

const HEADERS_END = Buffer.from('\r\n\r\n')
