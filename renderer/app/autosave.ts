/** Where keeping stands. */
export type SaveState =
  { readonly kind: 'kept' } | { readonly kind: 'keeping' } | { readonly kind: 'failed'; readonly message: string }

export interface Autosave<T> {
  /** Keeps a value soon; of several in quick succession only the newest. */
  readonly put: (value: T) => void
  /** Keeps at once what is not kept yet, also what failed before, and resolves when all is kept or keeping failed. */
  readonly settle: () => Promise<SaveState>
  /** Sends what is not kept yet this very moment: the window may be gone the next. */
  readonly leave: () => void
  readonly state: () => SaveState
  /** The newest value as long as it is not known to be kept. */
  readonly unsaved: () => { readonly value: T } | null
  /** Calls back after each change of the state until the returned function is called. */
  readonly listen: (listener: () => void) => () => void
}

const KEPT: SaveState = { kind: 'kept' }
const KEEPING: SaveState = { kind: 'keeping' }

/**
 * Keeps what changes while the handler works: after a short rest, one value at a time and in order. The newest value
 * stands for all before it, and is held until it is known to be kept: after a failure the next `put`, `settle` or
 * `leave` tries again.
 *
 * @param keep a rejection says in its message why it failed
 * @param restMs after the last `put`
 */
export function autosave<T>(keep: (value: T) => Promise<unknown>, restMs: number): Autosave<T> {
  const listeners = new Set<() => void>()
  let unsaved: { readonly value: T } | null = null
  /** The one that is under way in its turn. */
  let sent: { readonly value: T } | null = null
  let timer: ReturnType<typeof setTimeout> | undefined
  let running: Promise<void> | null = null
  let state = KEPT

  function become(next: SaveState): void {
    if (next === state) return
    state = next
    for (const listener of listeners) listener()
  }

  async function failureOf({ value }: { readonly value: T }): Promise<string | null> {
    try {
      await keep(value)
      return null
    } catch (error) {
      return error instanceof Error ? error.message : String(error)
    }
  }

  async function sendInTurn(): Promise<void> {
    let message: string | null = null
    while (unsaved !== null && message === null) {
      sent = unsaved
      become(KEEPING)
      const failure = await failureOf(sent)
      // A newer value has taken its place: that one decides.
      if (unsaved !== sent) continue
      message = failure
      if (failure === null) unsaved = null
    }
    sent = null
    running = null
    become(message === null ? KEPT : { kind: 'failed', message })
  }

  function send(): void {
    clearTimeout(timer)
    // With something to send the turn takes its first pause before it ends: `running` is set before it is cleared.
    if (running === null && unsaved !== null) running = sendInTurn()
  }

  return {
    put(value) {
      unsaved = { value }
      become(KEEPING)
      clearTimeout(timer)
      timer = setTimeout(send, restMs)
    },
    async settle() {
      send()
      while (running !== null) await running
      return state
    },
    leave() {
      // One that is under way may be answered too late for the next: that goes out beside it, and again in its turn.
      if (running !== null && unsaved !== null && unsaved !== sent) void failureOf(unsaved)
      send()
    },
    state: () => state,
    unsaved: () => unsaved,
    listen(listener) {
      const own = (): void => listener()
      listeners.add(own)
      return () => listeners.delete(own)
    },
  }
}
