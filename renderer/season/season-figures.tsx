import { useMemo } from 'react'
import type { DogSeason } from '../../main/contract/seasons.ts'
import { fallsAndLeavings } from '../../analysis/progress/fall-and-leaving.ts'
import {
  clockInWords,
  DRAWN_MEASURES,
  figureName,
  shiftOf,
  trendInWords,
} from '../../analysis/progress/report-words.ts'
import { rideInWords } from '../../analysis/progress/ride-words.ts'
import { boardsOf } from '../../analysis/progress/season.ts'
import { seriesOf } from '../../analysis/progress/series.ts'
import { BoardSign } from '../figures/board-sign.tsx'
import type { RideLinks } from '../figures/ride-mark.tsx'
import { SeasonLine } from '../figures/season-line.tsx'
import { SeasonMeasure } from '../figures/season-measure.tsx'
import { WaitingChart } from '../figures/waiting-chart.tsx'
import { RideKeys } from './ride-keys.tsx'

export interface SeasonFiguresProps {
  readonly of: DogSeason
  /** The rides that a chosen sentence rests on. */
  readonly marked: ReadonlySet<number> | null
}

/** Where the figure of something stands on the page. */
export function figureId(about: string): string {
  return `figure-${about}`
}

/** The address of a ride of a season. */
export function addressOfRide({ rides }: Pick<DogSeason, 'rides'>, index: number): string {
  const ride = rides[index]
  if (ride === undefined) return '/rides'
  return ride.isFilmed ? `/rides/${ride.rideId}` : `/noted/${ride.rideId}`
}

/** The season ride by ride, each measure below it on the same axis of days, and whether the dog waits or counts. */
export function SeasonFigures({ of: dog, marked }: SeasonFiguresProps) {
  const { season, report } = dog
  const boards = useMemo(() => boardsOf(season.rides), [season])
  const days = useMemo(() => season.rides.flatMap(({ day }) => day ?? []).sort((a, b) => a - b), [season])
  const links: RideLinks = {
    addressOf: (index) => `#${addressOfRide(dog, index)}`,
    wordsOf: (index) => rideInWords(season.rides[index]!),
    marked,
  }
  const measures = DRAWN_MEASURES.flatMap((measure) => {
    const trend = report.trends.find((one) => one.measure === measure)
    const series = seriesOf(measure, season.rides)
    return trend === undefined || series.value.length < 3 ? [] : [{ measure, trend, series }]
  })
  const known = useMemo(() => fallsAndLeavings(season.rides), [season])
  if (days.length === 0)
    return <p className="soft">No ride has a day yet: select rides in the list of rides to set it.</p>
  return (
    <>
      <section className="season-part" aria-labelledby="season-portrait">
        <h2 id="season-portrait">The season, ride by ride</h2>
        <ul className="season-boards" aria-label="Boards">
          {boards.map((name, k) => (
            <li key={name}>
              <svg className="season-figure" viewBox="0 0 16 16" aria-hidden="true">
                <BoardSign k={k} xPx={8} yPx={8} sizePx={5} />
              </svg>
              {name}
            </li>
          ))}
        </ul>
        <RideKeys id={figureId('season')} isExplained>
          <SeasonLine rides={season.rides} boards={boards} links={links} />
        </RideKeys>
        <p className="soft small">
          Above, the plank from up contact to down contact: a dot where the lead paw was at the tip, a cross on a missed
          contact, a flag for a show. Below, from when the dog held until it left, against the landing; an arrow where
          the clip ends first.
        </p>
      </section>
      {measures.map(({ measure, trend, series }) => (
        <section key={measure} className="season-part" aria-labelledby={`season-${measure}`}>
          <h3 id={`season-${measure}`}>{figureName(measure)}</h3>
          <RideKeys id={figureId(measure)}>
            <SeasonMeasure
              series={series}
              trend={trend}
              boardOf={series.rideIndex.map((index) => boards.indexOf(season.rides[index]!.board ?? ''))}
              days={days}
              shift={shiftOf(measure)}
              links={links}
            />
          </RideKeys>
          <p className="soft small">{trendInWords(trend)}</p>
        </section>
      ))}
      {known.rides.length < 3 ? null : (
        <section className="season-part" aria-labelledby="season-clock">
          <h2 id="season-clock">Does {season.dog} wait for the landing, or count?</h2>
          <RideKeys id={figureId('clock')}>
            <WaitingChart known={known} boards={boards} links={links} />
          </RideKeys>
          <p>{clockInWords(report)}</p>
        </section>
      )}
    </>
  )
}
