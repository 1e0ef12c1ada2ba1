/** How many pictures are fetched at the same time. */
const AT_ONCE = 4

export interface FrameStoreOptions<Picture> {
  /** Fetches and decodes one frame. */
  readonly load: (frame: number, signal: AbortSignal) => Promise<Picture>
  /** Frees what a picture holds. */
  readonly discard: (picture: Picture) => void
  /** Called when a frame has come, or could not be fetched. */
  readonly onChange: (frame: number) => void
  /** How many decoded pictures are held. */
  readonly most: number
}

/**
 * Decoded frames around the one that is shown, so that a step shows its picture at once. Bounded: what is furthest from
 * being wanted goes first.
 */
export class FrameStore<Picture> {
  readonly #options: FrameStoreOptions<Picture>
  readonly #held = new Map<number, Picture>()
  readonly #loading = new Map<number, AbortController>()
  readonly #failed = new Set<number>()
  #wanted: readonly number[] = []
  #isClosed = false

  constructor(options: FrameStoreOptions<Picture>) {
    this.#options = options
  }

  /** The picture of a frame, if it is there. */
  get(frame: number): Picture | null {
    return this.#held.get(frame) ?? null
  }

  hasFailed(frame: number): boolean {
    return this.#failed.has(frame)
  }

  /** Says which frames are wanted, the most urgent first; all before are no longer. */
  want(frames: readonly number[]): void {
    if (this.#isClosed) return
    this.#wanted = frames.slice(0, this.#options.most)
    const wanted = new Set(this.#wanted)
    for (const [frame, loading] of this.#loading) if (!wanted.has(frame)) loading.abort()
    this.#fetchNext()
  }

  /** Tries the frames again that could not be fetched. */
  retry(): void {
    this.#failed.clear()
    this.#fetchNext()
  }

  close(): void {
    this.#isClosed = true
    for (const loading of this.#loading.values()) loading.abort()
    for (const picture of this.#held.values()) this.#options.discard(picture)
    this.#held.clear()
  }

  #fetchNext(): void {
    for (const frame of this.#wanted) {
      if (this.#loading.size >= AT_ONCE) return
      if (this.#held.has(frame) || this.#loading.has(frame) || this.#failed.has(frame)) continue
      void this.#fetch(frame)
    }
  }

  async #fetch(frame: number): Promise<void> {
    const loading = new AbortController()
    this.#loading.set(frame, loading)
    try {
      const picture = await this.#options.load(frame, loading.signal)
      if (this.#isClosed) this.#options.discard(picture)
      else this.#hold(frame, picture)
    } catch {
      if (!loading.signal.aborted) this.#failed.add(frame)
    }
    this.#loading.delete(frame)
    if (this.#isClosed) return
    this.#options.onChange(frame)
    this.#fetchNext()
  }

  #hold(frame: number, picture: Picture): void {
    this.#held.set(frame, picture)
    const wanted = new Set(this.#wanted)
    for (const [held, old] of this.#held) {
      if (this.#held.size <= this.#options.most) return
      if (wanted.has(held) || held === frame) continue
      this.#held.delete(held)
      this.#options.discard(old)
    }
  }
}

/**
 * The frames to hold ready around the one shown, the most urgent first: itself, then alternately on and back, further
 * on in the direction of the last step.
 */
export function framesAround(element: number, direction: 1 | -1, count: number, most: number): readonly number[] {
  const frames = [element]
  const [ahead, behind] = [Math.ceil(most * 0.7), Math.floor(most * 0.3)]
  for (let step = 1; step <= ahead; step++) {
    frames.push(element + direction * step)
    if (step <= behind) frames.push(element - direction * step)
  }
  return frames.filter((frame) => frame >= 0 && frame < count).slice(0, most)
}
