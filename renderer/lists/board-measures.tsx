import type { ReactNode } from 'react'

interface Lengths {
  readonly lengthM?: number | null
  readonly pivotHeightM?: number | null
  readonly contactM?: number | null
}

/** A drawing, to scale, of what is measured where: the plank level over its foot. */
export function BoardMeasures({ shape }: { readonly shape: Lengths }): ReactNode {
  const { lengthM = null, pivotHeightM = null, contactM = null } = shape
  const length = lengthM ?? 3.66
  const height = pivotHeightM ?? 0.61
  const contact = Math.min(contactM ?? 0.91, length / 2)
  // 100 drawing units a metre; the ground at y = 0.
  const half = (length / 2) * 100
  const top = -height * 100
  return (
    <svg
      className="board-measures"
      viewBox={`${-half - 45} ${top - 34} ${length * 100 + 90} ${height * 100 + 72}`}
      role="img"
      aria-label="a: length of the top face. b: from the ground up to the top face at the middle, plank level. c: length of each zone from its end. d: thickness at the end. e: top face down to the axis."
    >
      <line x1={-half - 40} x2={half + 40} y1="0" y2="0" className="ground" />
      <path d={`M0 ${top + 5} L26 0 L-26 0 Z`} className="foot" />
      <rect x={-half} y={top} width={length * 100} height="5" className="plank" />
      <rect x={-half} y={top} width={contact * 100} height="5" className="zone" />
      <rect x={half - contact * 100} y={top} width={contact * 100} height="5" className="zone" />
      <circle cx="0" cy={top + 6} r="3" className="axis" />
      <Span from={-half} to={half} y={22} letter="a" />
      <Span from={-half} to={-half + contact * 100} y={top - 12} letter="c" />
      <g className="span">
        <line x1={half * 0.42} x2={half * 0.42} y1={top + 1} y2="-1" />
        <text x={half * 0.42 + 8} y={top / 2 + 5}>
          b
        </text>
      </g>
      <g className="span">
        <line x1={half + 10} x2={half + 10} y1={top} y2={top + 5} />
        <text x={half + 17} y={top + 9}>
          d
        </text>
        <text x="10" y={top + 24}>
          e
        </text>
        <line x1="5" x2="5" y1={top} y2={top + 6} />
      </g>
    </svg>
  )
}

function Span({
  from,
  to,
  y,
  letter,
}: {
  readonly from: number
  readonly to: number
  readonly y: number
  readonly letter: string
}) {
  return (
    <g className="span">
      <path d={`M${from} ${y - 4} V${y + 4} M${from} ${y} H${to} M${to} ${y - 4} V${y + 4}`} />
      <text x={(from + to) / 2} y={y - 5} textAnchor="middle">
        {letter}
      </text>
    </g>
  )
}
