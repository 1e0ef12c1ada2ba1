import { useEffect, useEffectEvent, useState } from 'react'
import { type Autosave, autosave, type SaveState } from './autosave.ts'

const REST_MS = 300

/** `autosave` for a component: what still waits when it leaves the window is kept at once. */
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
  useEffect(() => () => void saver.settle(), [saver])
  return { ...saver, state }
}
