import type { ReactNode } from 'react'

/** How the rides of a figure lead to their own pages; without it a figure is a picture. */
export interface RideLinks {
  /** The address of a ride, by its place in the dog's list. */
  readonly addressOf: (index: number) => string
  /** A ride in words. */
  readonly wordsOf: (index: number) => string
  /** The rides that something rests on: the others step back; null: none do. */
  readonly marked: ReadonlySet<number> | null
}

export interface RideMarkProps {
  readonly index: number
  readonly links: RideLinks | null
  /** The first ride of a figure is reached by Tab, the others from it by arrow keys. */
  readonly isFirst: boolean
  readonly xPx: number
  readonly topPx: number
  readonly bottomPx: number
  readonly children: ReactNode
}

/** All that is drawn of one ride: a link to it where there is one, with room around it to hit. */
export function RideMark({ index, links, isFirst, xPx, topPx, bottomPx, children }: RideMarkProps) {
  if (links === null) return <g>{children}</g>
  const isAside = links.marked !== null && !links.marked.has(index)
  return (
    <a
      href={links.addressOf(index)}
      aria-label={links.wordsOf(index)}
      className={isAside ? 'season-ride season-aside' : 'season-ride'}
      data-ride={index}
      tabIndex={isFirst ? 0 : -1}
    >
      <rect className="season-hit" x={xPx - 6} y={topPx} width={12} height={bottomPx - topPx} />
      {children}
    </a>
  )
}

/** A figure of links is a group of them; one without is a picture. */
export function figureRole(links: RideLinks | null): 'group' | 'img' {
  return links === null ? 'img' : 'group'
}
