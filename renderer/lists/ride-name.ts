import type { RideCard } from '../../main/contract/rides.ts'

/** What a ride is called in lists: its dog with the handler's own words, else its file. */
export function rideName({ title, dogName, fileName }: Pick<RideCard, 'title' | 'dogName' | 'fileName'>): string {
  if (title === '') return dogName ?? fileName
  return dogName === null || title.includes(dogName) ? title : `${dogName}, ${title}`
}
