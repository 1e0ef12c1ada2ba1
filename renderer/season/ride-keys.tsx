import { type FocusEvent, type KeyboardEvent, type PointerEvent, type ReactNode, useState } from 'react'

export interface RideKeysProps {
  readonly id: string
  /** Says how to go about it; one figure of a page does. */
  readonly isExplained?: boolean
  readonly children: ReactNode
}

const HINT = 'Each mark is a ride: point at one, or go along with the arrow keys. Enter opens it.'

/**
 * A figure whose rides are links: Tab comes to it, arrow keys go from ride to ride, Enter opens one. The ride under the
 * pointer or in focus is told in words below it.
 */
export function RideKeys({ id, isExplained = false, children }: RideKeysProps) {
  const [words, setWords] = useState<string | null>(null)

  function goOn(event: KeyboardEvent<HTMLDivElement>): void {
    const step = { ArrowRight: 1, ArrowLeft: -1, Home: -Infinity, End: Infinity }[event.key]
    if (step === undefined) return
    const rides = [...event.currentTarget.querySelectorAll<SVGAElement>('a[data-ride]')]
    const at = rides.findIndex((ride) => ride === document.activeElement)
    if (at < 0) return
    event.preventDefault()
    const next = rides[Math.min(rides.length - 1, Math.max(0, at + step))]
    // Tab leaves the figure from where it is and comes back to the same ride.
    for (const ride of rides) ride.setAttribute('tabindex', ride === next ? '0' : '-1')
    next?.focus()
  }

  const tell = (event: FocusEvent | PointerEvent): void => {
    const ride = event.target instanceof Element ? event.target.closest('a[data-ride]') : null
    setWords(ride?.getAttribute('aria-label') ?? null)
  }

  return (
    <div className="season-keys" id={id} onKeyDown={goOn} onFocus={tell} onPointerOver={tell}>
      {children}
      <p className="season-told small" aria-hidden="true">
        {words ?? (isExplained ? HINT : '')}
      </p>
    </div>
  )
}
