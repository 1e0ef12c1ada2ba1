import { type ScaleLinear, scaleLinear } from 'd3-scale'
import type { Board } from '../../analysis/board/board.ts'

export interface Row {
  readonly top: number
  readonly bottom: number
}

/** Where everything lies in a plank chart, px: events on top, then tilt, stretches, the plank, sound and time. */
export interface ChartLayout {
  readonly widthPx: number
  readonly heightPx: number
  readonly left: number
  readonly right: number
  readonly rows: {
    readonly labels: Row
    readonly tilt: Row
    readonly stretches: Row
    readonly plank: Row
    readonly sound: Row
    readonly time: Row
  }
  /** px from s. */
  readonly x: ScaleLinear<number, number>
  /** px from m along the plank: the entry end below, the exit end above. */
  readonly y: ScaleLinear<number, number>
  /** The length of one `em` of the chart's text, px. */
  readonly emPx: number
}

/** The plank's ends stand off the borders of their row by this, m. */
const ROOM_M = 0.12

/**
 * Lays a chart out in the room there is.
 *
 * @param emPx size of the chart's text, which follows the handler's text size
 */
export function chartLayout(
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
  emPx: number,
  [fromS, toS]: readonly [number, number],
  { lengthM }: Pick<Board, 'lengthM'>,
): ChartLayout {
  const labels = { top: 2, bottom: 2 + 1.75 * emPx }
  const tilt = rowBelow(labels, 0.6 * emPx, Math.max(1.8 * emPx, 0.11 * heightPx))
  const stretches = rowBelow(tilt, 0.2 * emPx, 1.3 * emPx)
  const time = { top: heightPx - 1.6 * emPx, bottom: heightPx }
  const soundPx = Math.max(1.8 * emPx, 0.09 * heightPx)
  const sound = { top: time.top - 0.2 * emPx - soundPx, bottom: time.top - 0.2 * emPx }
  const plank = { top: stretches.bottom + 0.3 * emPx, bottom: sound.top - 0.3 * emPx }
  const left = 5 * emPx
  const right = widthPx - 0.9 * emPx
  return {
    widthPx,
    heightPx,
    left,
    right,
    emPx,
    rows: { labels, tilt, stretches, plank, sound, time },
    x: scaleLinear([fromS, toS], [left, right]),
    y: scaleLinear([-ROOM_M, lengthM + ROOM_M], [plank.bottom, plank.top]),
  }
}

function rowBelow(above: Row, gapPx: number, heightPx: number): Row {
  return { top: above.bottom + gapPx, bottom: above.bottom + gapPx + heightPx }
}
