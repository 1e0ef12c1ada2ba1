import { scaleLinear } from 'd3-scale'
import type { Measured } from '../../analysis/estimate.ts'
import type { VerdictCard } from '../../analysis/words/verdict-cards.ts'

const WIDTH = 200
const EDGE_PX = 6

/** The number behind a verdict, beside the border that decides it. */
export function VerdictScale(props: { readonly scale: NonNullable<VerdictCard['scale']>; readonly contactM: number }) {
  const { kind, value } = props.scale
  return kind === 'leaving' ? (
    <LeavingScale margin={value} />
  ) : (
    <ZoneScale kind={kind} clearance={value} contactM={props.contactM} />
  )
}

/** Clearance along the plank: the zone is the amber part, its inner border the tick. */
function ZoneScale(props: { readonly kind: 'up' | 'down'; readonly clearance: Measured; readonly contactM: number }) {
  const { kind, clearance, contactM } = props
  const outerM = Math.max(0.4 * contactM, clearance.ci95[1] * 1.1)
  const domain = kind === 'up' ? [-contactM, outerM] : [outerM, -contactM]
  const x = scaleLinear(domain, [EDGE_PX, WIDTH - EDGE_PX]).clamp(true)
  const [left, right] = kind === 'up' ? [EDGE_PX, x(0)] : [x(0), WIDTH - EDGE_PX]
  return (
    <svg className="scale" viewBox={`0 0 ${WIDTH} 20`} aria-hidden="true">
      <line className="scale-axis" x1={EDGE_PX} x2={WIDTH - EDGE_PX} y1={10} y2={10} />
      <rect className="scale-zone" x={left} y={7} width={right - left} height={6} />
      <line className="scale-border" x1={x(0)} x2={x(0)} y1={2} y2={18} />
      <DotWithBand estimate={clearance} x={x} yPx={10} />
    </svg>
  )
}

/** Leaving against the landing: the tick is the landing, time runs right. */
function LeavingScale({ margin }: { readonly margin: Measured }) {
  const reachS = Math.max(0.5, 1.15 * Math.max(Math.abs(margin.ci95[0]), Math.abs(margin.ci95[1])))
  const domain = margin.value < 0 ? [-reachS, 0.4 * reachS] : [-0.4 * reachS, reachS]
  const x = scaleLinear(domain, [EDGE_PX, WIDTH - EDGE_PX]).clamp(true)
  return (
    <svg className="scale" viewBox={`0 0 ${WIDTH} 33`} aria-hidden="true">
      <line className="scale-axis" x1={EDGE_PX} x2={WIDTH - EDGE_PX} y1={10} y2={10} />
      <line className="scale-border" x1={x(0)} x2={x(0)} y1={2} y2={18} />
      <DotWithBand estimate={margin} x={x} yPx={10} />
      <text className="scale-end" x={x(0)} y={29} textAnchor="middle">
        landing
      </text>
    </svg>
  )
}

/** A value as a dot with its 95 % interval as a band. */
function DotWithBand(props: {
  readonly estimate: Measured
  readonly x: (value: number) => number
  readonly yPx: number
}) {
  const { estimate, x, yPx } = props
  const [fromPx, toPx] = estimate.ci95.map(x).sort((a, b) => a - b) as [number, number]
  return (
    <>
      <line className="scale-interval" x1={fromPx} x2={toPx} y1={yPx} y2={yPx} />
      <circle className="scale-value" cx={x(estimate.value)} cy={yPx} r={5} />
    </>
  )
}
