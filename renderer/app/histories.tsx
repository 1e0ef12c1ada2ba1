import { hashKey } from '@tanstack/react-query'
import { createContext, type ReactNode, useCallback, useContext, useState, useSyncExternalStore } from 'react'
import { advance, beginHistory, type History, type HistoryAction } from './history.ts'

/** A history with those who look at it. */
class KeptHistory<T> {
  #history: History<T>
  readonly #listeners = new Set<() => void>()

  constructor(present: T) {
    this.#history = beginHistory(present)
  }

  readonly history = (): History<T> => this.#history

  become(history: History<T>): void {
    this.#history = history
    for (const listener of this.#listeners) listener()
  }

  readonly listen = (listener: () => void): (() => void) => {
    const own = (): void => listener()
    this.#listeners.add(own)
    return () => this.#listeners.delete(own)
  }
}

type Histories = Map<string, KeptHistory<never>>

const HistoriesContext = createContext<Histories | null>(null)

/** Holds what can be undone above the screens, until the window closes: who leaves and comes back can still undo. */
export function HistoriesProvider({ children }: { readonly children: ReactNode }) {
  const [histories] = useState<Histories>(() => new Map())
  return <HistoriesContext value={histories}>{children}</HistoriesContext>
}

/**
 * The history of this name, as it was left.
 *
 * @param name the same for everything that is undone as one: "marks of CLIP"
 * @param value what holds when the screen is opened; where the history says otherwise, something else has changed it,
 *   and the history begins anew
 * @param onChange told each new present
 */
export function useHistory<T>(
  name: string,
  value: T,
  onChange: (present: T) => void,
): { readonly history: History<T>; readonly act: (action: HistoryAction<T>) => void } {
  const histories = useContext(HistoriesContext)
  if (histories === null) throw new Error('useHistory is used outside of a HistoriesProvider')
  const [kept] = useState(() => {
    // A name always comes with the same kind of value.
    const known = histories.get(name) as KeptHistory<T> | undefined
    if (known !== undefined && hashKey([known.history().present]) === hashKey([value])) return known
    const begun = new KeptHistory(value)
    histories.set(name, begun as unknown as KeptHistory<never>)
    return begun
  })
  const history = useSyncExternalStore(kept.listen, kept.history)
  const act = useCallback(
    (action: HistoryAction<T>): void => {
      const before = kept.history()
      const after = advance(before, action)
      if (after === before) return
      kept.become(after)
      if (after.present !== before.present) onChange(after.present)
    },
    [kept, onChange],
  )
  return { history, act }
}
