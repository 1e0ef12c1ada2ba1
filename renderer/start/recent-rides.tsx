import { Link } from 'react-router'
import { useCall } from '../host/use-call.ts'
import { RideCardLink } from '../lists/ride-card.tsx'
import { Answer } from '../look/answer.tsx'

const SHOWN = 6

/** The newest rides, and what a ride is while there is none. */
export function RecentRides() {
  const rides = useCall('rides.list', {
    words: '',
    dogId: null,
    boardId: null,
    leaving: null,
    sortBy: 'newest',
    offset: 0,
    limit: SHOWN,
  })
  return (
    <section aria-label="Recent rides" className="stack">
      <div className="section-head">
        <h2>Recent rides</h2>
        {(rides.data?.total ?? 0) > SHOWN ? <Link to="/rides">All {rides.data?.total} rides</Link> : null}
      </div>
      <Answer of={rides}>
        {({ rides: newest }) =>
          newest.length === 0 ? (
            <p className="soft teach">
              A ride is one crossing of the plank: where it tipped, whether the dog waited, when it left. Open a sample
              ride to see one, or add a clip of your own.
            </p>
          ) : (
            <div className="ride-cards">
              {newest.map((ride) => (
                <RideCardLink key={ride.id} ride={ride} />
              ))}
            </div>
          )
        }
      </Answer>
    </section>
  )
}
