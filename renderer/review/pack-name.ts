import type { PackCard } from '../../main/contract/review.ts'

/** "Wren, second run" */
export function packName({ dogName, title }: Pick<PackCard, 'dogName' | 'title'>): string {
  return dogName === '' || title.includes(dogName) ? title : `${dogName}, ${title}`
}
