import type { Ride } from '../../../analysis/ride/ride.ts'
import { isMeasured } from '../../../analysis/words/in-words.ts'
import type { Moment } from './take-stills.ts'

/** The moments of a ride that are worth a picture, in their order; where the board never tipped, getting on comes first. */
export function rideMoments({ events }: Ride): readonly Moment[] {
  const { firstOn, tipStart, grounded, left } = events
  const first = isMeasured(tipStart)
    ? { caption: 'The board begins to tip', at: tipStart }
    : { caption: 'The first paw is on', at: firstOn }
  const lands = { caption: 'The board lands', at: grounded }
  const leaves = { caption: 'The last paw leaves', at: left }
  const leftFirst = isMeasured(left) && isMeasured(grounded) && left.value < grounded.value
  return leftFirst ? [first, leaves, lands] : [first, lands, leaves]
}
