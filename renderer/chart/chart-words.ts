import type { Ride, RideFootfall } from '../../analysis/ride/ride.ts'
import { CORRECTABLE_EVENTS } from '../../analysis/ride/corrections.ts'
import { fixed, listInWords, placeInWords } from '../../analysis/words/in-words.ts'
import type { Units } from '../../analysis/words/units.ts'
import { EVENT_NAMES } from '../../analysis/words/event-names.ts'

const LIMBS: Readonly<Record<RideFootfall['limb'], string>> = { front: 'front', hind: 'hind', unknown: 'not sure' }

/** What a chart shows, in a sentence or two: for those who do not see it. */
export function chartSentence(ride: Ride): string {
  const events = CORRECTABLE_EVENTS.flatMap((event) => {
    const at = ride.events[event]
    return at.kind === 'measured' ? [`${EVENT_NAMES[event].name.toLowerCase()} at ${fixed(at.value, 2)} s`] : []
  })
  const count = (limb: RideFootfall['limb']) => ride.footfalls.filter((footfall) => footfall.limb === limb).length
  const kinds = [
    [count('front'), 'front'],
    [count('hind'), 'hind'],
    [count('unknown'), 'not sure which'],
  ] as const
  const paws = kinds.flatMap(([n, kind]) => (n === 0 ? [] : [`${n} ${kind}`]))
  const moments =
    events.length === 0 ? 'No moment of the ride was measured.' : `The ride in time: ${listInWords(events)}.`
  return `${moments} Paw contacts: ${paws.length === 0 ? 'none' : listInWords(paws)}.`
}

/** One paw contact as a line of a table. */
export interface FootfallLine {
  readonly limb: string
  readonly place: string
  readonly from: string
  readonly to: string
}

export function footfallLine(footfall: RideFootfall, lengthM: number, units: Units): FootfallLine {
  return {
    limb: LIMBS[footfall.limb],
    place: placeInWords(footfall.alongM, lengthM, units),
    from: fixed(footfall.fromS, 2),
    to: fixed(footfall.toS, 2),
  }
}
