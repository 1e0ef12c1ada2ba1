/**
 * What a pack is called in lists.
 *
 * @param pack its dog's name, empty if it has none, and its title
 * @returns the title, with the dog's name in front unless it says it
 * @example packName({ dogName: 'Wren', title: 'second run' }) // 'Wren, second run'
 */
export function packName({ dogName, title }: { readonly dogName: string; readonly title: string }): string {
  return dogName === '' || title.includes(dogName) ? title : `${dogName}, ${title}`
}
