import { memo } from 'react'
import { type Loudness, soundBars } from '../../analysis/drawing/sound-bars.ts'
import type { Estimate } from '../../analysis/estimate.ts'
import type { ChartLayout } from './chart-layout.ts'

export interface SoundRowProps {
  readonly sound: Loudness | null
  readonly bangHeard: Estimate
  readonly layout: ChartLayout
}

/** What "landing heard" and its distance from the sound take. */
const WORDS_EM = 9

/** The sound as mirrored bars, the loudest shown fills the row; where the landing was heard a small mark says so. */
export const SoundRow = memo(function SoundRow({ sound, bangHeard, layout }: SoundRowProps) {
  const { x, left, right, emPx, rows } = layout
  const middle = (rows.sound.top + rows.sound.bottom) / 2
  const name = (
    <text className="chart-quiet" x={left - 0.6 * emPx} y={middle + 0.35 * emPx} textAnchor="end">
      sound
    </text>
  )
  if (sound === null) {
    return (
      <g>
        {name}
        <text className="chart-quiet" x={left + 0.6 * emPx} y={middle + 0.35 * emPx}>
          The clip has no sound.
        </text>
      </g>
    )
  }
  const path = soundBars(sound, x, left, right).map(({ xPx, share }) => {
    const halfPx = Math.max(0.5, (share * (rows.sound.bottom - rows.sound.top)) / 2)
    return `M${xPx.toFixed(1)},${(middle - halfPx).toFixed(1)}V${(middle + halfPx).toFixed(1)}`
  })
  const bangPx = bangHeard.kind === 'measured' ? x(bangHeard.value) : null
  const hasRoomAfter = bangPx !== null && bangPx + WORDS_EM * emPx <= right
  return (
    <g>
      {name}
      <path className="chart-sound" d={path.join('')} />
      {bangPx === null || bangPx < left || bangPx > right ? null : (
        <text
          className="chart-quiet"
          x={hasRoomAfter ? bangPx + 1.2 * emPx : bangPx - 0.6 * emPx}
          y={rows.sound.top + 0.55 * emPx}
          textAnchor={hasRoomAfter ? 'start' : 'end'}
        >
          landing heard
        </text>
      )}
    </g>
  )
})
