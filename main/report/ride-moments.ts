import type { Ride } from '../../analysis/ride/ride.ts'
import type { Moment } from './take-stills.ts'

/** The moments of a ride that are worth a picture; where the board never tipped, getting on takes the tip's place. */
export function rideMoments({ events }: Ride): readonly Moment[] {
  const first =
    events.tipStart.kind === 'measured'
      ? { caption: 'The board begins to tip', at: events.tipStart }
      : { caption: 'The first paw is on', at: events.firstOn }
  return [
    first,
    { caption: 'The board lands', at: events.grounded },
    { caption: 'The last paw leaves', at: events.left },
  ]
}
