import { expect, test } from 'vitest'
import { haltsInWords, haltsOf } from '../../../analysis/progress/halts.ts'
import { dogOfRides, parseRides } from '../../../main/outputs/progress/rides-file.ts'

const firstOn = { kind: 'measured', value: 1, sd: 0.01, ci95: [0.98, 1.02] }
const pause = { fromS: 2, toS: 2.4, bodyM: 1.2 }

/** Halts of a dog as they are read from a file of rides. */
function haltsIn(rides: readonly object[]) {
  const file = { schema: 'tiphold.rides/1', rides: rides.map((ride) => ({ dog: 'Juno', ...ride })) }
  const parsed = parseRides(file, 'rides.json')
  if (!parsed.ok) throw new Error(parsed.message)
  const dog = dogOfRides(parsed.value, 'Juno')
  if (!dog.ok) throw new Error(dog.message)
  return haltsOf(dog.value.season.rides)
}

test('pauses and turning back are counted on the rides that tell of them', () => {
  const seen = { events: { firstOn }, measures: { pauses: [], turnedBack: false } }
  const [paused, back] = haltsIn([
    ...Array.from({ length: 19 }, () => seen),
    { events: { firstOn }, measures: { pauses: [pause], turnedBack: false } },
    // It halted, though its coming was not seen; of the next nothing is known, and the last was not filmed.
    { measures: { pauses: [pause], turnedBack: false } },
    { measures: { pauses: [], turnedBack: false } },
    { byHand: true, events: { firstOn }, measures: { pauses: [pause], turnedBack: true } },
  ])
  expect(paused).toMatchObject({ what: 'paused', count: 2, of: 21 })
  expect(back).toMatchObject({ what: 'turned-back', count: 0, of: 20 })
  // Wilson's upper end for none of n is z^2 / (n + z^2); z^2 = 3.8415 (J Am Stat Assoc 1927, 22:209).
  expect(back!.ci95[0]).toBe(0)
  expect(back!.ci95[1]).toBeCloseTo(3.8415 / 23.8415, 4)
  expect(haltsInWords([back!])).toEqual(['Turned back on the plank on 0 of 20 rides (0 to 16 % in the long run).'])
})

test('nothing is told of rides that do not say', () => {
  expect(haltsIn([{ events: { firstOn } }, { measures: { turnedBack: 'no' } }])).toEqual([])
})
