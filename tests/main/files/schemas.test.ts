import { readFileSync } from 'node:fs'
import { Ajv } from 'ajv'
import { describe, expect, test } from 'vitest'
import { withheld } from '../../../analysis/estimate.ts'
import { reportOf } from '../../../analysis/progress/dog-report.ts'
import { jsonText } from '../../../main/files/json-file.ts'
import { dogFile } from '../../../main/outputs/progress/dog-file.ts'
import { demoSeason } from '../../../sample-clips/season/demo-season.ts'
import { inventedSeason, PLAIN_DOG } from '../../analysis/progress/invented-season.ts'
import { bailOff, sampleDrop, sampleRide } from '../outputs/report/sample-ride.ts'

function validatorFor(name: string) {
  const schema = JSON.parse(readFileSync(new URL(`../../../main/files/${name}`, import.meta.url), 'utf8')) as object
  const validate = new Ajv({ strict: false }).compile(schema)
  return (value: unknown) => validate(JSON.parse(jsonText(value)))
}

describe('the published schema of ride.json', () => {
  const isValid = validatorFor('ride.schema.json')

  test('holds for a whole ride and for a bail-off', () => {
    expect(isValid(sampleRide)).toBe(true)
    expect(isValid(bailOff)).toBe(true)
  })

  test('lets further fields pass, so that files of later versions can be read', () => {
    expect(isValid({ ...sampleRide, weather: 'rain' })).toBe(true)
  })

  test('refuses a value without its interval, a withheld one without a reason, and a missing event', () => {
    const withEvent = (left: unknown) => ({ ...sampleRide, events: { ...sampleRide.events, left } })
    expect(isValid(withEvent({ kind: 'measured', value: 1 }))).toBe(false)
    expect(isValid(withEvent({ kind: 'withheld', detail: 'Who knows.' }))).toBe(false)
    expect(isValid(withEvent(undefined))).toBe(false)
    expect(isValid(withEvent(null))).toBe(false)
  })
})

describe('the published schema of droptest.json', () => {
  const isValid = validatorFor('droptest.schema.json')
  const none = withheld('not-measured-yet', 'Not in this version yet.')
  const physics = { inertiaKgM2: none, biasTorqueNm: none, coulombNm: none, viscousNms: none }
  const file = { schema: 'tiphold.droptest/1', program: { version: '0.1.0' }, drops: [sampleDrop], physics }

  test('holds for a drop, also for one whose movement was not seen', () => {
    expect(isValid(file)).toBe(true)
    expect(isValid({ ...file, drops: [{ ...sampleDrop, moved: null }] })).toBe(true)
  })

  test('refuses a file without drops', () => {
    expect(isValid({ ...file, drops: [] })).toBe(false)
  })
})

describe('the published schemas of many rides', () => {
  test('dog.json holds for a season, and for a dog without rides', () => {
    const isValid = validatorFor('dog.schema.json')
    const rides = inventedSeason(1, PLAIN_DOG, { rides: 8, spanDays: 60 })
    const materials = [{ board: 'Club board', entered: null, behavesLike: 'wood', woodChance: 0.93 }] as const
    expect(isValid(dogFile(reportOf({ dog: 'Wisp', criterion: null, rides }), [], [], materials))).toBe(true)
    expect(isValid(dogFile(reportOf({ dog: 'Wisp', criterion: null, rides: [] }), [], [], []))).toBe(true)
    expect(isValid({ ...dogFile(reportOf({ dog: 'Wisp', criterion: null, rides }), [], [], []), rates: null })).toBe(
      false,
    )
  })

  test('rides.json holds for the invented season, and not for a ride without a dog', () => {
    const isValid = validatorFor('rides.schema.json')
    expect(isValid(demoSeason())).toBe(true)
    expect(isValid({ schema: 'tiphold.rides/1', rides: [{ board: 'Home board' }] })).toBe(false)
  })
})
