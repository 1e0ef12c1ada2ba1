/** Where keeping stands. */
export type SaveState =
  { readonly kind: 'kept' } | { readonly kind: 'keeping' } | { readonly kind: 'failed'; readonly message: string }

export interface Autosave<T> {
  /** Keeps a value soon; of several in quick succession only the newest. */
  readonly put: (value: T) => void
  /** Keeps at once what still waits, and resolves when all is kept or keeping failed. */
  readonly settle: () => Promise<SaveState>
  /** Sends what still waits this very moment: the window may be gone the next. */
  readonly leave: () => void
}

/**
 * Keeps what changes while the handler works: after a short rest, one value at a time and in order. The newest value
 * stands for all before it.
 *
 * @param keep gives the sentence if keeping failed, else null
 */
export function autosave<T>(
  keep: (value: T) => Promise<string | null>,
  onState: (state: SaveState) => void,
  restMs: number,
): Autosave<T> {
  let waiting: { readonly value: T } | null = null
  let timer: ReturnType<typeof setTimeout> | undefined
  let running: Promise<void> | null = null
  let state: SaveState = { kind: 'kept' }

  function become(next: SaveState): void {
    state = next
    onState(next)
  }

  async function drain(): Promise<void> {
    while (waiting !== null) {
      const { value } = waiting
      waiting = null
      const message = await keep(value)
      become(message === null ? { kind: 'kept' } : { kind: 'failed', message })
    }
    running = null
  }

  return {
    put(value) {
      waiting = { value }
      become({ kind: 'keeping' })
      clearTimeout(timer)
      timer = setTimeout(() => (running ??= drain()), restMs)
    },
    async settle() {
      clearTimeout(timer)
      if (waiting !== null) running ??= drain()
      await running
      return state
    },
    leave() {
      clearTimeout(timer)
      // One that is under way may be answered too late for the next: that goes out beside it, and again in its turn.
      if (waiting !== null && running !== null) void keep(waiting.value)
      else if (waiting !== null) running = drain()
    },
  }
}
