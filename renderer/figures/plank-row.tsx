import { area, line } from 'd3-shape'
import { memo } from 'react'
import type { Board } from '../../analysis/board/board.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { lengthDisplay, type Units } from '../../analysis/words/units.ts'
import type { ChartLayout } from './chart-layout.ts'

type PlankSize = Pick<Board, 'lengthM' | 'contactM'>

/** The plank itself: its zones as bands, the pivot as a dotted line, places from the pivot at the side. */
export const PlankGround = memo(function PlankGround(props: {
  readonly board: PlankSize
  readonly layout: ChartLayout
  readonly units: Units
}) {
  const { board, layout, units } = props
  const { lengthM, contactM } = board
  const { x, y, left, right, emPx } = layout
  const [fromS, toS] = x.domain() as [number, number]
  const band = (lowM: number, highM: number) => (
    <rect className="chart-zone" x={x(fromS)} width={x(toS) - x(fromS)} y={y(highM)} height={y(lowM) - y(highM)} />
  )
  const told = lengthDisplay(units)
  const tick = (alongM: number, withUnit: boolean) => {
    const fromPivot = (alongM - lengthM / 2) * told.perSi
    const number = `${fromPivot > 0 ? '+' : ''}${fixed(fromPivot, units === 'metric' ? 2 : 0)}`
    return (
      <text className="chart-quiet" x={left - 0.6 * emPx} y={y(alongM) + 0.35 * emPx} textAnchor="end">
        {withUnit ? `${number} ${told.sign}` : number}
      </text>
    )
  }
  const edge = (alongM: number) => <line className="chart-edge" x1={left} x2={right} y1={y(alongM)} y2={y(alongM)} />
  return (
    <g>
      {band(0, contactM)}
      {band(lengthM - contactM, lengthM)}
      {edge(0)}
      {edge(lengthM)}
      <line className="chart-pivot" x1={left} x2={right} y1={y(lengthM / 2)} y2={y(lengthM / 2)} />
      {tick(lengthM, true)}
      {tick(lengthM - contactM, false)}
      <text className="chart-quiet" x={left - 0.6 * emPx} y={y(lengthM / 2) + 0.35 * emPx} textAnchor="end">
        pivot
      </text>
      {tick(contactM, false)}
      {tick(0, false)}
      <text className="chart-zone-name" x={left + 0.6 * emPx} y={y(lengthM) + 1.25 * emPx}>
        down contact
      </text>
      <text className="chart-zone-name" x={right - 0.6 * emPx} y={y(0) - 0.6 * emPx} textAnchor="end">
        up contact
      </text>
    </g>
  )
})

interface DogAt {
  readonly atS: number
  readonly leadM: number | null
  readonly rearM: number | null
}

/** The dog: a grey band from its rearmost to its foremost paw, the foremost one as a line. */
export const DogBand = memo(function DogBand(props: { readonly frames: Ride['frames']; readonly layout: ChartLayout }) {
  const { frames, layout } = props
  const { x, y } = layout
  const dog = frames.ptsS.map((atS, k): DogAt => ({
    atS,
    leadM: frames.leadPawM[k] ?? null,
    rearM: frames.rearPawM[k] ?? null,
  }))
  const band = area<DogAt>()
    .defined(({ leadM, rearM }) => leadM !== null && rearM !== null)
    .x(({ atS }) => x(atS))
    .y0(({ rearM }) => y(rearM ?? 0))
    .y1(({ leadM }) => y(leadM ?? 0))
  const lead = line<DogAt>()
    .defined(({ leadM }) => leadM !== null)
    .x(({ atS }) => x(atS))
    .y(({ leadM }) => y(leadM ?? 0))
  return (
    <g>
      <path className="chart-dog" d={band(dog) ?? ''} />
      <path className="chart-lead" d={lead(dog) ?? ''} />
    </g>
  )
})
