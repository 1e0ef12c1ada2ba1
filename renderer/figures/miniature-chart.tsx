import { scaleLinear } from 'd3-scale'
import type { RideFootfall } from '../../analysis/ride/ride.ts'
import { PawBar } from './paw-bar.tsx'

const WIDTH = 240
const HEIGHT = 90
const ROOM_M = 0.15

/** Enough of a ride for a small chart: m and s; a moment that was not measured is null. */
export interface RideMiniature {
  readonly lengthM: number
  readonly contactM: number
  readonly fromS: number
  readonly toS: number
  readonly footfalls: readonly RideFootfall[]
  readonly tipStartS: number | null
  readonly groundedS: number | null
  readonly leftS: number | null
}

/**
 * A ride as a small plank chart for lists: zones, pivot, planted paws and the fall. It says nothing that the words
 * beside it do not say, so it is a picture without a name.
 */
export function MiniatureChart({ miniature }: { readonly miniature: RideMiniature }) {
  const { lengthM, contactM, fromS, toS, footfalls, tipStartS, groundedS, leftS } = miniature
  const x = scaleLinear([fromS, toS], [0, WIDTH]).clamp(true)
  const y = scaleLinear([-ROOM_M, lengthM + ROOM_M], [HEIGHT, 0])
  const zone = (lowM: number, highM: number) => (
    <rect className="chart-zone" x="0" width={WIDTH} y={y(highM)} height={y(lowM) - y(highM)} />
  )
  const line = (atS: number | null, name: string) =>
    atS === null ? null : <line className={`chart-moment ${name}`} x1={x(atS)} x2={x(atS)} y1="0" y2={HEIGHT} />
  return (
    <svg className="miniature-chart" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true">
      {tipStartS === null || groundedS === null ? null : (
        <rect className="chart-fall" x={x(tipStartS)} width={x(groundedS) - x(tipStartS)} y="0" height={HEIGHT} />
      )}
      {zone(0, contactM)}
      {zone(lengthM - contactM, lengthM)}
      <line className="chart-pivot" x1="0" x2={WIDTH} y1={y(lengthM / 2)} y2={y(lengthM / 2)} />
      {line(tipStartS, 'tip')}
      {line(groundedS, 'landed')}
      {line(leftS, 'off')}
      {footfalls.map((footfall) => (
        <PawBar
          key={`${footfall.fromS} ${footfall.alongM}`}
          limb={footfall.limb}
          fromPx={x(footfall.fromS)}
          toPx={x(footfall.toS)}
          yPx={y(footfall.alongM)}
          thickPx={4}
        />
      ))}
    </svg>
  )
}
