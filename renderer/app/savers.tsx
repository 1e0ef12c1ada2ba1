import { createContext, type ReactNode, useContext, useEffect, useState, useSyncExternalStore } from 'react'
import { BRIDGE_NAME } from '../../main/contract/host-bridge.ts'
import { type Autosave, autosave, type SaveState } from './autosave.ts'

const REST_MS = 300

/** What is being kept, by name: the set-up of a clip, its marks, the corrections of a ride. */
type Savers = Map<string, Autosave<never>>

const SaversContext = createContext<Savers | null>(null)

/**
 * Holds what is being kept above the screens, so that nothing is forgotten with its screen: one who comes back finds
 * what could not be kept yet. Everything goes out at once when the window is hidden or closed.
 */
export function SaversProvider({ children }: { readonly children: ReactNode }) {
  const [savers] = useState<Savers>(() => new Map())
  useEffect(() => {
    const leave = (): void => savers.forEach((saver) => saver.leave())
    const leaveWhenHidden = (): void => {
      if (document.visibilityState === 'hidden') leave()
    }
    // The desktop shell asks by itself, and would take this question for a refusal.
    const askWhenFailed = (event: BeforeUnloadEvent): void => {
      const isAnyLost = [...savers.values()].some((saver) => saver.state().kind === 'failed')
      if (isAnyLost && !(BRIDGE_NAME in globalThis)) event.preventDefault()
    }
    window.addEventListener('pagehide', leave)
    window.addEventListener('beforeunload', askWhenFailed)
    document.addEventListener('visibilitychange', leaveWhenHidden)
    return () => {
      window.removeEventListener('pagehide', leave)
      window.removeEventListener('beforeunload', askWhenFailed)
      document.removeEventListener('visibilitychange', leaveWhenHidden)
    }
  }, [savers])
  return <SaversContext value={savers}>{children}</SaversContext>
}

function useSavers(): Savers {
  const savers = useContext(SaversContext)
  if (savers === null) throw new Error('savers are used outside of a SaversProvider')
  return savers
}

/**
 * The `autosave` of this name. What waits is kept at once when the component leaves the window.
 *
 * @param name the same for everything that is kept as one: "setup of CLIP"
 * @param keep taken when the name is first used; it must not depend on the component
 */
export function useAutosave<T>(
  name: string,
  keep: (value: T) => Promise<unknown>,
): Autosave<T> & { readonly now: SaveState } {
  const savers = useSavers()
  // A name always comes with the same kind of value.
  const saver = (savers.get(name) ?? autosave(keep, REST_MS)) as Autosave<T>
  if (!savers.has(name)) savers.set(name, saver as unknown as Autosave<never>)
  const now = useSyncExternalStore(saver.listen, saver.state)
  useEffect(
    () => () => {
      void saver.settle()
    },
    [saver],
  )
  return { ...saver, now }
}

/** Keeps everything of these names that still waits; gives the first failure, or that all is kept. */
export function useSettle(): (names: readonly string[]) => Promise<SaveState> {
  const savers = useSavers()
  return async (names) => {
    const settled = async (name: string): Promise<SaveState> => (await savers.get(name)?.settle()) ?? { kind: 'kept' }
    const states = await Promise.all(names.map(settled))
    return states.find(({ kind }) => kind === 'failed') ?? { kind: 'kept' }
  }
}
