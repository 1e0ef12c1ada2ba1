import { memo } from 'react'
import type { RideFootfall } from '../../analysis/ride/ride.ts'
import type { ChartLayout } from './chart-layout.ts'
import { PawBar, type PawBarProps } from './paw-bar.tsx'

/** Every planted paw as a bar. */
export const PlantedPaws = memo(function PlantedPaws(props: {
  readonly footfalls: readonly RideFootfall[]
  readonly layout: ChartLayout
}) {
  return (
    <g>
      {props.footfalls.map((footfall, k) => (
        // Two paws may share both their time and their place.
        <PawBar key={k} {...pawBarOf(footfall, props.layout)} />
      ))}
    </g>
  )
})

/** Where a planted paw's bar lies in a chart. */
export function pawBarOf(
  { limb, alongM, fromS, toS, confidence }: RideFootfall,
  { x, y, rows }: ChartLayout,
): PawBarProps {
  const thickPx = Math.max(5, Math.min(8, (rows.plank.bottom - rows.plank.top) / 34))
  return { limb, confidence, fromPx: x(fromS), toPx: x(toS), yPx: y(alongM), thickPx }
}
