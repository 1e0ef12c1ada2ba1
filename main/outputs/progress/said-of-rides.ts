import { z } from 'zod'
import type { ReviewLine } from '../../../analysis/review/review-words.ts'
import type { SaidOfRide } from '../report/dog-page.tsx'
import type { DogOfRides } from './rides-file.ts'

const linesShape = z.array(z.object({ who: z.string(), when: z.string(), what: z.string() }))

/** The comments that stand in a file of rides; what is no comment there is passed over. */
export function linesIn(comments: unknown): readonly ReviewLine[] {
  return linesShape.safeParse(comments).data ?? []
}

/** The rides of a dog of which something was said, in the order of the season. */
export function saidOfRides({ season, file }: Pick<DogOfRides, 'season' | 'file'>): readonly SaidOfRide[] {
  return season.rides.flatMap((ride) => {
    const lines = linesIn(file.rides[ride.index]?.['comments'])
    return lines.length === 0 ? [] : [{ ride, lines }]
  })
}
