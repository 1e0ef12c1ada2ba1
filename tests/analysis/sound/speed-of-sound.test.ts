import { describe, expect, it } from 'vitest'
import { speedOfSoundMps, wayThroughAir } from '../../../analysis/sound/speed-of-sound.ts'

const FOOT_M = 0.3048

describe('speed of sound', () => {
  it('agrees with a published table within 0.2 %', () => {
    // J. O. Smith, Physical Audio Signal Processing, "Speed of Sound in Air" (Stanford CCRMA): 1085.1 ft/s at 0 degrees
    // Celsius, 1124.1 ft/s at 20. Smith rounds the gas constant, hence 342.6 m/s instead of the usual 343.2.
    for (const [temperatureC, feetPerS] of [
      [0, 1085.1],
      [20, 1124.1],
    ] as const) {
      const publishedMps = feetPerS * FOOT_M
      expect(Math.abs(speedOfSoundMps(temperatureC) / publishedMps - 1)).toBeLessThan(0.002)
    }
  })

  it('agrees with the ideal gas law', () => {
    // Second implementation: sqrt(gamma R T / M) with gamma 1.4, R 8.314462618 J/(mol K), dry air 28.9647 g/mol.
    for (const temperatureC of [-10, 0, 15, 35]) {
      const gasMps = Math.sqrt((1.4 * 8.314462618 * (temperatureC + 273.15)) / 0.0289647)
      expect(Math.abs(speedOfSoundMps(temperatureC) / gasMps - 1)).toBeLessThan(0.001)
    }
  })

  it('takes 29.1 ms over 10 m at 20 degrees', () => {
    expect(wayThroughAir({ distanceM: 10, sdM: 0 }, 20).delayS).toBeCloseTo(0.0291, 4)
  })
})

describe('way through the air', () => {
  it('is unsure by the distance over the speed when only the distance is unsure', () => {
    const sure = wayThroughAir({ distanceM: 6, sdM: 0 }, 20)
    const unsure = wayThroughAir({ distanceM: 6, sdM: 0.34 }, 20)
    expect(Math.sqrt(unsure.sdS ** 2 - sure.sdS ** 2)).toBeCloseTo(0.34 / 343.2, 6)
  })

  it('holds frost and a hot day in its 95 % interval when no temperature is given', () => {
    const { delayS, sdS } = wayThroughAir({ distanceM: 8, sdM: 0 })
    for (const temperatureC of [0, 35]) {
      expect(Math.abs(8 / speedOfSoundMps(temperatureC) - delayS)).toBeLessThan(1.96 * sdS)
    }
    expect(sdS).toBeGreaterThan(wayThroughAir({ distanceM: 8, sdM: 0 }, 17.5).sdS)
  })
})
