import { expect, test } from 'vitest'
import { filmDay } from '../../../../main/film/media/film-day.ts'

const now = new Date('2026-06-01T12:00:00Z')
const dayOf = (tags: Record<string, string>) => filmDay(new Map(Object.entries(tags)), now)

test('a time with an offset is the day where it was filmed', () => {
  expect(dayOf({ 'com.apple.quicktime.creationdate': '2026-05-14T23:30:12+0200' })).toBe('2026-05-14')
  expect(dayOf({ 'com.apple.quicktime.creationdate': '2026-05-14T00:10:00-07:00' })).toBe('2026-05-14')
})

test('a time in UTC is told as this machine tells it', () => {
  // The closed form: what the system's own calendar says of the same instant.
  const at = new Date('2026-05-14T16:30:12Z')
  const day = [at.getFullYear(), at.getMonth() + 1, at.getDate()].map((part) => String(part).padStart(2, '0')).join('-')
  expect(dayOf({ creation_time: '2026-05-14T16:30:12.000000Z' })).toBe(day)
})

test('the tag with the offset goes before the one without', () => {
  const creation = { creation_time: '2026-05-10T12:00:00Z' }
  expect(dayOf({ ...creation, 'com.apple.quicktime.creationdate': '2026-05-14T18:00:00+0200' })).toBe('2026-05-14')
})

test.each([
  [{}],
  [{ creation_time: '1904-01-01T00:00:00.000000Z' }],
  [{ creation_time: '1970-01-01T00:00:00.000000Z' }],
  [{ creation_time: '2031-01-01T00:00:00.000000Z' }],
  [{ creation_time: '2026-02-30' }],
  [{ creation_time: 'yesterday' }],
])('no day is made of %j', (tags) => {
  expect(dayOf(tags as Record<string, string>)).toBeNull()
})
