import { Link } from 'react-router'
import type { DogSeason } from '../../main/contract/seasons.ts'
import { dayText, type SeasonRide } from '../../analysis/progress/season.ts'
import { rideInWords } from '../../analysis/progress/ride-words.ts'
import { dayInWords } from '../lists/verdict-words.ts'
import { addressOfRide } from './season-figures.tsx'

/** All rides of the dog in a list, the newest first: those without a day and those by hand as well. */
export function RidesTable({ of: dog }: { readonly of: DogSeason }) {
  const { season, rides } = dog
  const shown = season.rides.toSorted((a, b) => (b.day ?? -1) - (a.day ?? -1) || b.index - a.index)
  return (
    <section className="season-part" aria-labelledby="season-rides">
      <h2 id="season-rides">All rides</h2>
      <ol className="season-rides card">
        {shown.map((ride) => (
          <li key={ride.index}>
            <Link to={addressOfRide(dog, ride.index)}>
              {ride.day === null ? 'Day not known' : dayInWords(dayText(ride.day))}
            </Link>
            <span>{rideInWords(ride).replace(/^[^:]*: /, '')}</span>
            <span className="soft small">
              {[ride.board, ...originOf(ride, rides[ride.index])].filter(Boolean).join(', ')}
            </span>
          </li>
        ))}
      </ol>
    </section>
  )
}

function originOf(ride: SeasonRide, of: DogSeason['rides'][number] | undefined): string[] {
  return [
    ...(ride.purpose === 'show' ? ['show'] : []),
    ...(ride.byHand ? ['entered by hand'] : []),
    ...(of?.isInvented === true ? ['invented'] : []),
    ...(of?.isCorrected === true ? ['corrected by hand'] : []),
  ]
}
