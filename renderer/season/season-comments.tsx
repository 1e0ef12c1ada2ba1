import { Link } from 'react-router'
import type { DogSeason } from '../../main/contract/seasons.ts'
import { rideName } from '../../analysis/progress/ride-words.ts'
import { capitalised } from '../../analysis/words/in-words.ts'
import { addressOfRide } from './season-figures.tsx'

/** What coaches and the handler said of the dog's rides, the newest ride first; nothing where nobody said anything. */
export function SeasonComments({ of: dog }: { readonly of: DogSeason }) {
  const rides = dog.season.rides.filter(({ index }) => (dog.rides[index]?.said.length ?? 0) > 0).toReversed()
  if (rides.length === 0) return null
  return (
    <section className="season-part" aria-labelledby="season-comments">
      <h2 id="season-comments">Comments</h2>
      <ul className="season-comments card">
        {rides.map((ride) => (
          <li key={ride.index}>
            <Link to={addressOfRide(dog, ride.index)}>{capitalised(rideName(ride))}</Link>
            {dog.rides[ride.index]?.said.map(({ who, when, what }, k) => (
              <p key={k}>
                <span className="soft">
                  <bdi>{who}</bdi>, {when}:
                </span>{' '}
                <bdi>{what}</bdi>
              </p>
            ))}
          </li>
        ))}
      </ul>
    </section>
  )
}
