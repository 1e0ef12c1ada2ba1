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
