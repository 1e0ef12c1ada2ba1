import type { Measured } from '../../analysis/estimate.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import { isMeasured } from '../../analysis/words/in-words.ts'
import { spreadLabels } from '../../analysis/drawing/spread-labels.ts'
import { type Markup, markup } from './markup.ts'

/** One event on a chart: a line through all rows with a word on top. */
export interface ChartEvent {
  readonly word: string
  readonly name: string
  readonly xPx: number
  /** The 95 % interval of its time. */
  readonly fromPx: number
  readonly toPx: number
  /** Middle and width of the label, moved aside where events lie close together. */
  readonly labelPx: number
  readonly labelWidthPx: number
}

/** The measured events of a ride in the order of time; withheld ones are told elsewhere. */
export function chartEvents(ride: Ride, x: (atS: number) => number): readonly ChartEvent[] {
  const { firstOn, tipStart, grounded, left } = ride.events
  const named = [
    ['on', 'on', firstOn],
    ['tip', 'tip', tipStart],
    ['landed', 'landed', grounded],
    ['off', 'off', left],
  ] as const
  return spreadLabels(named.flatMap(([word, name, at]) => (isMeasured(at) ? [chartEvent(word, name, at, x)] : [])))
}

export function chartEvent(
  word: string,
  name: string,
  at: Measured,
  x: (atS: number) => number,
): Omit<ChartEvent, 'labelPx'> {
  const xPx = x(at.value)
  const [lo, hi] = at.ci95
  return { word, name, xPx, fromPx: x(lo), toPx: x(hi), labelWidthPx: word.length * 7.5 + 18 }
}

export function eventLines(
  events: readonly ChartEvent[],
  labels: { readonly top: number; readonly bottom: number },
  bottomPx: number,
): readonly Markup[] {
  return events.map(({ word, name, xPx, fromPx, toPx, labelPx, labelWidthPx }) => {
    const { top, bottom } = labels
    const wide = toPx - fromPx > 3
    return markup`<g class="event ${name}">
      ${wide ? markup`<rect class="event-interval" x="${fromPx}" y="${bottom + 8}" width="${toPx - fromPx}" height="${bottomPx - bottom - 8}"/>` : null}
      <path class="event-line" d="M${labelPx},${bottom} L${xPx},${bottom + 8} V${bottomPx}"/>
      <rect class="event-label" x="${labelPx - labelWidthPx / 2}" y="${top}" width="${labelWidthPx}" height="${bottom - top}" rx="${(bottom - top) / 2}"/>
      <text class="event-word" x="${labelPx}" y="${(top + bottom) / 2 + 4.5}" text-anchor="middle">${word}</text>
    </g>`
  })
}
