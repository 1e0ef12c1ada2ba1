import { useSearchParams } from 'react-router'

/** A row of clips that are gone through one after another; its ids stand in the address, so that it survives a reload. */
export interface ClipRow {
  readonly isRow: boolean
  /** Where the next clip of the row is marked; null after the last. */
  readonly next: string | null
}

const NAME = 'row'

export function rowIds(search: URLSearchParams): readonly string[] {
  return (search.get(NAME) ?? '').split(',').filter((id) => id !== '')
}

/** Where a clip of a row is marked. */
export function markingInRow(clipId: string, ids: readonly string[]): string {
  return `/clips/${clipId}/marking?${NAME}=${ids.join(',')}`
}

/** Where a row of clips is set up together. */
export function togetherWith(ids: readonly string[]): string {
  return `/together?${NAME}=${ids.join(',')}`
}

export function useClipRow(clipId: string): ClipRow {
  const [search] = useSearchParams()
  const ids = rowIds(search)
  const place = ids.indexOf(clipId)
  const next = place < 0 ? undefined : ids[place + 1]
  return { isRow: place >= 0, next: next === undefined ? null : markingInRow(next, ids) }
}
