import { describe, expect, it } from 'vitest'
import { highPass } from '../../../analysis/sound/high-pass.ts'
import { octavesOf } from '../../../analysis/sound/octaves.ts'

const RATE_HZ = 44_100

function tone(hz: number, lengthS = 0.5): Float32Array {
  return Float32Array.from({ length: lengthS * RATE_HZ }, (_, i) => Math.sin((2 * Math.PI * hz * i) / RATE_HZ))
}

/** Away from the ends, where the kernels reach beyond the sound. */
function meanSquare(samples: Float32Array): number {
  const middle = samples.subarray(samples.length >> 2, (3 * samples.length) >> 2)
  return middle.reduce((sum, value) => sum + value * value, 0) / middle.length
}

describe('octaves', () => {
  it('number seven at 44.1 kHz, from 86 Hz to 11 kHz, each half of the one above', () => {
    const octaves = octavesOf(tone(1000), RATE_HZ)
    expect(octaves.map((octave) => Math.round(octave.lowHz))).toEqual([5513, 2756, 1378, 689, 345, 172, 86])
    for (const octave of octaves) {
      expect(octave.highHz).toBe(2 * octave.lowHz)
      expect(octave.rateHz).toBe(2 * octave.highHz)
    }
  })

  it('hold a tone in the octave it lies in, with its whole power', () => {
    for (const hz of [120, 245, 490, 980, 1950, 3900]) {
      for (const octave of octavesOf(tone(hz), RATE_HZ)) {
        const power = meanSquare(octave.band)
        if (hz > octave.lowHz && hz < octave.highHz) expect(power).toBeCloseTo(0.5, 1)
        else expect(power).toBeLessThan(0.02)
      }
    }
  })

  it('do not shift a click in time', () => {
    const atS = 0.2
    const click = new Float32Array(0.5 * RATE_HZ)
    click[atS * RATE_HZ] = 1
    for (const octave of octavesOf(click, RATE_HZ)) {
      const energy = octave.band.reduce((sum, value) => sum + value * value, 0)
      const centre = octave.band.reduce((sum, value, i) => sum + value * value * i, 0) / energy / octave.rateHz
      expect(Math.abs(centre - atS)).toBeLessThan(0.25 / octave.highHz)
    }
  })

  it('are none for a sound too slow to hold one', () => {
    expect(octavesOf(new Float32Array(100), 300)).toEqual([])
  })
})

describe('high-pass', () => {
  it('halves the power at its corner and keeps what lies well above', () => {
    expect(meanSquare(highPass(tone(200), RATE_HZ, 200))).toBeCloseTo(0.25, 2)
    expect(meanSquare(highPass(tone(2000), RATE_HZ, 200))).toBeCloseTo(0.5, 2)
    expect(meanSquare(highPass(tone(50), RATE_HZ, 200))).toBeLessThan(0.01)
  })

  it('answers a step at once and never before it', () => {
    const step = Float32Array.from({ length: 1000 }, (_, i) => (i >= 500 ? 1 : 0))
    const passed = highPass(step, RATE_HZ, 100)
    expect(passed.subarray(0, 500).every((value) => value === 0)).toBe(true)
    expect(passed[500]).toBeGreaterThan(0.98)
  })
})
