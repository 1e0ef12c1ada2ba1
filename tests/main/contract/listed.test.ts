import { describe, expect, test } from 'vitest'
import { listed, unlisted, unlistedDog, unlistedTrack } from '../../../main/contract/listed.ts'
import { sampleDog, sampleTrack } from '../outputs/report/sample-ride.ts'

describe('tracks as plain lists', () => {
  test('a number that is not known travels as null', () => {
    expect(listed({ bodyM: Float64Array.of(0.5, NaN) })).toEqual({ bodyM: [0.5, null] })
  })

  test('a dog track comes back from JSON as it was, unknown places too', () => {
    expect(sampleDog.leadPawM.some(Number.isNaN)).toBe(true)
    const travelled = JSON.parse(JSON.stringify(listed(sampleDog))) as ReturnType<typeof listed<typeof sampleDog>>
    expect(unlistedDog(travelled)).toEqual(sampleDog)
  })

  test('a board track comes back from JSON as it was, not seen frames too', () => {
    // JSON knows no -0.
    const angleRad = sampleTrack.angleRad.map((rad) => rad + 0).with(3, NaN)
    const track = { ...sampleTrack, angleRad, seen: sampleTrack.seen.with(3, 0) }
    const travelled = JSON.parse(JSON.stringify(listed(track))) as ReturnType<typeof listed<typeof track>>
    expect(unlistedTrack(travelled)).toEqual(track)
  })

  test('every kind of array comes back as its own kind', () => {
    interface Mixed {
      readonly level: Float32Array
      readonly index: Int32Array
      readonly name: string
      readonly list: readonly number[]
    }
    const mixed: Mixed = { level: Float32Array.of(0.1, NaN), index: Int32Array.of(-7), name: 'a', list: [1] }
    expect(unlisted<Mixed>(listed(mixed), { level: 'Float32', index: 'Int32' })).toEqual(mixed)
  })
})
