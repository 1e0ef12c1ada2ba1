import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { dogOfRides, parseRides } from '../../../../main/outputs/progress/rides-file.ts'
import { ridesCsv } from '../../../../main/outputs/progress/rides-csv.ts'
import { demoSeason } from '../../../../sample-clips/season/demo-season.ts'

const ride = (more: object) => ({ schema: 'tiphold.rides/1', rides: [{ dog: 'Wisp', ...more }] })

function messageOf(value: unknown): string {
  const read = parseRides(value, 'r.json')
  return read.ok ? 'read' : read.message
}

test.each([
  [{ schema: 'tiphold.ride/1', rides: [] }, 'r.json: schema must be "tiphold.rides/1", got "tiphold.ride/1"'],
  [{ schema: 'tiphold.rides/1' }, 'r.json: rides is missing; add it'],
  [ride({ day: '2026-02-30' }), 'r.json: rides[0].day must be a calendar day such as "2026-05-14", got "2026-02-30"'],
  [ride({ purpose: 'fun' }), 'r.json: rides[0].purpose must be "training" or "show", got "fun"'],
  [
    ride({ measures: { dropTimeS: { kind: 'measured', value: 'x', sd: 1 } } }),
    'r.json: rides[0].measures.dropTimeS.value must be a number, got "x"',
  ],
  [
    ride({ measures: { dropTimeS: { kind: 'measured', value: 1 } } }),
    'r.json: rides[0].measures.dropTimeS needs sd or ci95',
  ],
  [
    ride({ leaving: { verdict: 'early' } }),
    'r.json: rides[0].leaving.verdict must be "after-ground", "before-ground", "before-tip", "too-close" or "not-seen", got "early"',
  ],
  [[], 'r.json: the file must be an object { ... }, got []'],
])('a bad file is told in one line: %#', (value, message) => {
  expect(messageOf(value)).toBe(message)
})

test('what is absent is unknown, and fields that we do not know are kept', () => {
  const read = parseRides({ ...ride({ weather: 'rain' }), club: 'Hillside' }, 'r.json')
  const dog = read.ok ? dogOfRides(read.value, 'wisp') : read
  expect(dog).toMatchObject({
    ok: true,
    value: {
      season: { dog: 'Wisp', rides: [{ day: null, board: null, byHand: false, leaving: null }] },
      file: { club: 'Hillside', rides: [{ weather: 'rain' }] },
    },
  })
})

test('a dog that is not in the file is told with those that are', () => {
  const read = parseRides(ride({}), 'r.json')
  expect(read.ok && dogOfRides(read.value, 'Bess')).toEqual({
    ok: false,
    message: 'r.json: has no dog named "Bess"; it has Wisp',
  })
})

test('the table has units in its headers, a line a ride, and runs nothing', () => {
  const wild = ride({ board: '=HYPERLINK("http://x")', surface: '-1+1, "turf"', day: '2026-04-01' })
  const read = parseRides(wild, 'r.json')
  const dog = read.ok ? dogOfRides(read.value, 'Wisp') : null
  const [header, line, end] = (dog?.ok ? ridesCsv(dog.value.season.rides) : '').split('\r\n')
  expect(header).toContain('drop time (s),drop time sd (s),drop time at least (s)')
  expect(header).toMatch(/board feel \(s\)$/)
  expect(header).toContain('climb speed (m/s)')
  expect(line).toMatch(/^2026-04-01,"'=HYPERLINK\(""http:\/\/x""\)",,"'-1\+1, ""turf""",no,/)
  expect(line?.split(/,(?=(?:[^"]*"[^"]*")*[^"]*$)/)).toHaveLength(header!.split(',').length)
  expect(end).toBe('')
})

test('the kept file of the invented season is what its generator draws', () => {
  const kept = readFileSync(new URL('../../../../sample-clips/season/rides.json', import.meta.url), 'utf8')
  expect(JSON.parse(kept)).toEqual(JSON.parse(JSON.stringify(demoSeason())))
})

test('the invented season is read whole', () => {
  const read = parseRides(demoSeason(), 'demo')
  expect(read).toMatchObject({ ok: true })
  expect(read.ok && read.value.checked.rides).toHaveLength(60)
})
