/** Something that is edited, with what it was before and what was taken back. */
export interface History<T> {
  readonly past: readonly T[]
  readonly present: T
  readonly future: readonly T[]
  /** Changes with the same name in a row are one step; null: the next change is a step of its own. */
  readonly running: string | null
}

export type HistoryAction<T> =
  | {
      readonly kind: 'change'
      readonly change: (present: T) => T
      /** "nudge rest pivot": joined with the change before if that has the same name. */
      readonly running: string | null
    }
  /** The running change is over: a drag was let go, the focus moved on. */
  | { readonly kind: 'rest' }
  | { readonly kind: 'undo' }
  | { readonly kind: 'redo' }

/** The oldest of more steps than these are forgotten. */
const MOST_STEPS = 500

export function beginHistory<T>(present: T): History<T> {
  return { past: [], present, future: [], running: null }
}

/** What an action makes of a history. */
export function advance<T>(history: History<T>, action: HistoryAction<T>): History<T> {
  const { past, present, future, running } = history
  switch (action.kind) {
    case 'change': {
      const next = action.change(present)
      if (next === present) return history
      const isJoined = action.running !== null && action.running === running
      return {
        past: isJoined ? past : [...past, present].slice(-MOST_STEPS),
        present: next,
        future: [],
        running: action.running,
      }
    }
    case 'rest':
      return running === null ? history : { ...history, running: null }
    case 'undo': {
      const before = past.at(-1)
      if (before === undefined) return history
      return { past: past.slice(0, -1), present: before, future: [present, ...future], running: null }
    }
    case 'redo': {
      const [after, ...later] = future
      if (after === undefined) return history
      return { past: [...past, present], present: after, future: later, running: null }
    }
  }
}
