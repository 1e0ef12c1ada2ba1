import { describe, expect, it } from 'vitest'
import { soundEnvelope } from '../../../analysis/sound/envelope.ts'

const track = (samples: number[], rateHz: number, startS = 0, slowMotionFactor = 1) => ({
  samples: Float32Array.from(samples),
  rateHz,
  startS,
  slowMotionFactor,
})

describe('sound envelope', () => {
  it('gives the worked example', () => {
    const envelope = soundEnvelope(track([0, 0.5, -0.5, 0], 4), 0, 1, 2)
    expect([...envelope.atS]).toEqual([0.25, 0.75])
    expect([...envelope.low]).toEqual([0, -0.5])
    expect([...envelope.high]).toEqual([0.5, 0])
    expect(envelope.rms[0]).toBeCloseTo(Math.sqrt(0.125), 6)
  })

  it('has the root mean square of a sine, amplitude over root two', () => {
    const sine = Array.from({ length: 8000 }, (_, i) => 0.8 * Math.sin((2 * Math.PI * 100 * i) / 8000))
    for (const rms of soundEnvelope(track(sine, 8000), 0, 1, 10).rms) expect(rms).toBeCloseTo(0.8 / Math.SQRT2, 4)
  })

  it('is silent before and after the track, and in place in between', () => {
    const envelope = soundEnvelope(track([1, 1], 2, 1), 0, 3, 3)
    expect([...envelope.rms]).toEqual([0, 1, 0])
  })

  it('puts slowed sound at its real time', () => {
    // 16 samples at 2 Hz of the file are 8 s of it, 1 s of real time.
    const samples = Array.from({ length: 16 }, (_, i) => (i === 12 ? 1 : 0))
    expect([...soundEnvelope(track(samples, 2, 0, 8), 0, 1, 4).high]).toEqual([0, 0, 0, 1])
  })

  it('repeats a sample when there are more buckets than samples', () => {
    expect([...soundEnvelope(track([0.25, -0.5], 2), 0, 1, 4).low]).toEqual([0.25, 0.25, -0.5, -0.5])
  })
})
