import { type DropItem } from 'react-aria-components'

/** The files among what was dropped. */
export async function droppedFiles(items: readonly DropItem[]): Promise<readonly File[]> {
  const files = await Promise.all(items.map(async (item) => (item.kind === 'file' ? [await item.getFile()] : [])))
  return files.flat()
}
