import type { NotedRide } from '../contract/noted-rides.ts'

/** A ride without a film is called by its dog and its day. */
export function notedName(ride: NotedRide | null, dogName: (id: string) => string | null): string {
  if (ride === null) return ''
  const dog = ride.dogId === null ? null : dogName(ride.dogId)
  return [dog, ride.session.day].filter((part) => part !== null).join(', ')
}
