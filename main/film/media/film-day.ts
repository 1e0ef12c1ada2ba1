/** Tags in which phones and cameras tell when a film was made; the first that can be believed counts. */
const TAGS = ['com.apple.quicktime.creationdate', 'creation_time', 'creationdate', 'date'] as const

/** Cameras whose clock was never set tell the year in which their format begins, and nobody filmed ahead of today. */
const FIRST_YEAR = 2000
const DAY_MS = 86_400_000

/**
 * The day on which a film was made, `2026-05-14`, by its own tags; null where they tell none that can be.
 *
 * A time with an offset (Apple's `2026-05-14T18:30:12+0200`) is the day where it was filmed. A time in UTC, which is
 * what MP4 has, is told in this machine's time zone.
 */
export function filmDay(tags: ReadonlyMap<string, string>, now: Date): string | null {
  for (const name of TAGS) {
    const day = dayIn(tags.get(name) ?? '', now)
    if (day !== null) return day
  }
  return null
}

function dayIn(text: string, now: Date): string | null {
  const parts = /^(\d{4}-\d{2}-\d{2})(?:[T ](\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?) ?(Z|[+-]\d{2}:?\d{2})?)?$/.exec(
    text.trim(),
  )
  if (parts === null) return null
  const [, day = '', time, zone] = parts
  const isLocal = time === undefined || zone !== 'Z'
  const at = new Date(isLocal ? `${day}T12:00:00Z` : `${day}T${time}Z`)
  if (Number.isNaN(at.getTime()) || at.getTime() > now.getTime() + DAY_MS) return null
  if (Number(day.slice(0, 4)) < FIRST_YEAR) return null
  if (isLocal) return at.toISOString().slice(0, 10) === day ? day : null
  const two = (value: number) => String(value).padStart(2, '0')
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`
}
