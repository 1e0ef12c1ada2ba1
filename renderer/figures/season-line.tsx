import { scaleLinear } from 'd3-scale'
import type { SeasonRide } from '../../analysis/progress/season.ts'
import { BoardSign } from './board-sign.tsx'
import { figureRole, type RideLinks, RideMark } from './ride-mark.tsx'
import { SEASON, SeasonAxis, seasonScale } from './season-axis.tsx'

/** Sizes of a plank to draw on where the rides do not tell theirs: a common one, m. */
const LENGTH_M = 3.66
const ZONE_M = 0.914
const PLANK = { topPx: 34, bottomPx: 134 }
const TIME = { topPx: 156, bottomPx: 256 }
const SIGNS_PX = 280
const HEIGHT_PX = 306

export interface SeasonLineProps {
  readonly rides: readonly SeasonRide[]
  readonly boards: readonly string[]
  readonly links?: RideLinks | null
}

/**
 * A season as a line of rides, each a ride folded flat: above, the plank with its zones and where the lead paw was at
 * the tip; below, from when it held until it left, against the landing. Below that the board's sign, above all a flag
 * for a show.
 */
export function SeasonLine(props: SeasonLineProps) {
  const { links = null } = props
  const dated = props.rides.flatMap((ride) => (ride.day === null ? [] : [{ ...ride, day: ride.day }]))
  dated.sort((a, b) => a.day - b.day || a.index - b.index)
  const scale = seasonScale(dated.map(({ day }) => day))
  const along = scaleLinear([0, LENGTH_M], [PLANK.bottomPx, PLANK.topPx])
  const since = scaleLinear([-0.8, 1], [TIME.bottomPx, TIME.topPx]).clamp(true)
  const left = SEASON.leftPx
  const right = SEASON.widthPx - SEASON.rightPx
  return (
    <svg
      className="season-figure"
      viewBox={`0 0 ${SEASON.widthPx} ${HEIGHT_PX}`}
      role={figureRole(links)}
      aria-label="Every ride of the season, in order of its day"
    >
      <rect className="chart-zone" x={left} width={right - left} y={along(ZONE_M)} height={along(0) - along(ZONE_M)} />
      <rect
        className="chart-zone"
        x={left}
        width={right - left}
        y={along(LENGTH_M)}
        height={along(0) - along(ZONE_M)}
      />
      <SeasonAxis scale={scale} topPx={PLANK.topPx} bottomPx={SIGNS_PX + 8} />
      <line className="chart-pivot" x1={left} x2={right} y1={along(LENGTH_M / 2)} y2={along(LENGTH_M / 2)} />
      <line className="season-landing" x1={left} x2={right} y1={since(0)} y2={since(0)} />
      {(
        [
          [along(LENGTH_M - ZONE_M / 2) + 4, 'down'],
          [along(LENGTH_M / 2) + 4, 'pivot'],
          [along(ZONE_M / 2) + 4, 'up'],
          [since(0.5) + 4, '+0.5 s'],
          [since(0) + 4, 'landing'],
          [since(-0.5) + 4, '−0.5 s'],
          [SIGNS_PX + 4, 'board'],
        ] as const
      ).map(([yPx, word]) => (
        <text key={word} className="chart-quiet" x={left - 8} y={yPx} textAnchor="end">
          {word}
        </text>
      ))}
      {dated.map((ride, i) => (
        <RideMark
          key={ride.index}
          index={ride.index}
          links={links}
          isFirst={i === 0}
          xPx={scale.ofRide[i]!}
          topPx={PLANK.topPx - 24}
          bottomPx={SIGNS_PX + 8}
        >
          <Ride ride={ride} xPx={scale.ofRide[i]!} along={along} since={since} boards={props.boards} />
        </RideMark>
      ))}
    </svg>
  )
}

interface RideProps {
  readonly ride: SeasonRide
  readonly xPx: number
  readonly along: (m: number) => number
  readonly since: (s: number) => number
  readonly boards: readonly string[]
}

function Ride({ ride, xPx, along, since, boards }: RideProps) {
  const tip = ride.measures['leadPawAtTipM']
  const { leavingMarginS: margin, holdBeforeGroundS: hold } = ride.measures
  const from = hold?.kind === 'measured' ? -hold.value : 0
  const board = ride.board === null ? -1 : boards.indexOf(ride.board)
  return (
    <>
      {ride.purpose === 'show' ? (
        <path className="season-flag" d={`M${xPx},${PLANK.topPx - 6} v-18 l8,4 l-8,4`} />
      ) : null}
      <line className="season-plank" x1={xPx} x2={xPx} y1={along(0)} y2={along(LENGTH_M)} />
      <Missed isMissed={ride.upZone === 'missed'} xPx={xPx} yPx={along(ZONE_M / 2)} />
      <Missed isMissed={ride.downZone === 'missed'} xPx={xPx} yPx={along(LENGTH_M - ZONE_M / 2)} />
      {tip?.kind === 'measured' ? <circle className="season-tip" cx={xPx} cy={along(tip.value)} r={2.8} /> : null}
      {margin === undefined || margin.kind === 'withheld' ? (
        <Unknown ride={ride} xPx={xPx} since={since} />
      ) : (
        <>
          <line
            className={margin.value < 0 ? 'season-early' : 'season-stay'}
            x1={xPx}
            x2={xPx}
            y1={since(Math.min(from, margin.value - 0.02))}
            y2={since(margin.value)}
          />
          {margin.kind === 'atLeast' || margin.value > 1 ? (
            <path className="season-goes-on" d={`M${xPx - 3},${since(margin.value) + 1} l3,-5 l3,5 Z`} />
          ) : null}
        </>
      )}
      {board < 0 ? null : <BoardSign k={board} xPx={xPx} yPx={SIGNS_PX} sizePx={3.6} />}
    </>
  )
}

function Missed({ isMissed, xPx, yPx }: { readonly isMissed: boolean; readonly xPx: number; readonly yPx: number }) {
  if (!isMissed) return null
  return <path className="season-missed" d={`M${xPx - 4},${yPx - 4} l8,8 m0,-8 l-8,8`} />
}

/** Rides whose leaving was not measured, or that a person entered: an open mark on the side that is known. */
function Unknown({ ride, xPx, since }: Pick<RideProps, 'ride' | 'xPx' | 'since'>) {
  const isEarly = ride.leaving === 'before-ground' || ride.leaving === 'before-tip'
  if (!isEarly && ride.leaving !== 'after-ground') return null
  return <circle className="season-open" cx={xPx} cy={since(isEarly ? -0.12 : 0.12)} r={3.2} />
}
