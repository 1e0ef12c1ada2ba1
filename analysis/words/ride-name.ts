/**
 * What a ride is called in lists: its dog with the handler's own words, else its file.
 *
 * @example
 * rideName({ title: 'second run', dogName: 'Wren', fileName: 'IMG_1.mp4' }) // 'Wren, second run'
 */
export function rideName({
  title,
  dogName,
  fileName,
}: {
  readonly title: string
  readonly dogName: string | null
  readonly fileName: string
}): string {
  if (title === '') return dogName ?? fileName
  return dogName === null || title.includes(dogName) ? title : `${dogName}, ${title}`
}

/**
 * What a ride is called where it goes to others: phones name a film by its day, which is nobody else's business.
 *
 * @example
 * sentRideName({ title: '', dogName: null }) // 'Seesaw ride'
 */
export function sentRideName({ title, dogName }: { readonly title: string; readonly dogName: string | null }): string {
  return rideName({ title, dogName, fileName: 'Seesaw ride' })
}
