import { useEffect, useEffectEvent, useState } from 'react'
import { type Autosave, autosave, type SaveState } from './autosave.ts'

const REST_MS = 300

/**
 * `autosave` for a component: what still waits is kept at once when the component leaves the window, when the window is
 * hidden and when it is closed.
 */
export function useAutosave<T>(keep: (value: T) => Promise<unknown>): Autosave<T> & { readonly state: SaveState } {
  const [state, setState] = useState<SaveState>({ kind: 'kept' })
  const keepNow = useEffectEvent(keep)
  const [saver] = useState(() =>
    autosave<T>(
      async (value) => {
        try {
          await keepNow(value)
          return null
        } catch (error) {
          return error instanceof Error ? error.message : String(error)
        }
      },
      setState,
      REST_MS,
    ),
  )
  useEffect(() => {
    const leaveWhenHidden = (): void => {
      if (document.visibilityState === 'hidden') saver.leave()
    }
    window.addEventListener('pagehide', saver.leave)
    document.addEventListener('visibilitychange', leaveWhenHidden)
    return () => {
      void saver.settle().then(() => {
        window.removeEventListener('pagehide', saver.leave)
        document.removeEventListener('visibilitychange', leaveWhenHidden)
      })
    }
  }, [saver])
  return { ...saver, state }
}
