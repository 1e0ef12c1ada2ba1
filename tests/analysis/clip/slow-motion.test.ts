import { describe, expect, it } from 'vitest'
import { slowMotionFromPace, slowMotionFromTags } from '../../../analysis/clip/slow-motion.ts'

describe('slow motion', () => {
  it('is read from a capture rate well above the stored one', () => {
    expect(slowMotionFromTags({ captureRateHz: 240, storedRateHz: 30 })).toMatchObject({ factor: 8, isSure: true })
  })

  it('is not assumed when a real-time clip carries its capture rate', () => {
    expect(slowMotionFromTags({ captureRateHz: 240, storedRateHz: 240 }).factor).toBe(1)
  })

  it('is not sure without a tag', () => {
    expect(slowMotionFromTags({ captureRateHz: null, storedRateHz: 30 })).toMatchObject({ factor: 1, isSure: false })
  })

  it('is recognised when board and dog move far too slowly for an untagged clip', () => {
    const said = slowMotionFromTags({ captureRateHz: null, storedRateHz: 30 })
    const found = slowMotionFromPace(1, { dropTimeS: 5.6, climbSpeedMps: 0.3 }, said)
    expect(found.factor).toBe(8)
    expect(found.evidence).toContain('5.6 s')
  })

  it('leaves an ordinary ride alone', () => {
    const said = slowMotionFromTags({ captureRateHz: null, storedRateHz: 30 })
    expect(slowMotionFromPace(1, { dropTimeS: 0.9, climbSpeedMps: 1.4 }, said).factor).toBe(1)
    expect(slowMotionFromPace(1, { dropTimeS: 2.5, climbSpeedMps: 0.8 }, said).factor).toBe(1)
  })
})
