import { useCallback, useLayoutEffect, useRef } from 'react'

/**
 * A function that stays the same for as long as its component is shown, and does what the newest one does: what it is
 * given to is not drawn anew with every frame of the film.
 */
export function useStable<Arguments extends readonly unknown[], Result>(
  newest: (...given: Arguments) => Result,
): (...given: Arguments) => Result {
  const current = useRef(newest)
  useLayoutEffect(() => {
    current.current = newest
  })
  return useCallback((...given: Arguments) => current.current(...given), [])
}
