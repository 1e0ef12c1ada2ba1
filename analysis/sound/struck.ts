/** The sound is looked at in steps of this, s. */
const LOOK_STEP_S = 0.001
/** What was struck is loud in the first of these and quiet in the second, s after it began. */
const EARLY_S = [0, 0.03] as const
const LATE_S = [0.06, 0.12] as const
export type Ringing = 'struck' | 'swells' | 'lasts' | 'twice'

/** A body is loudest within this time after it was struck. */
const LOUDEST_WITHIN_S = 0.02
const LOOKED_AT_S = 0.1
/** A later swell of less than this (a beating ring) does not count: 2 dB. Our judgement, no source. */
const SWELL = 10 ** 0.2
/** Power 60-120 ms after the blow over power in the first 30 ms: a ring that dies away within 2 s keeps less than this. */
const STILL_THERE = 0.65
/** A second blow this soon after the first cannot be told from it by loudness over the background: it is looked for here. */
const SECOND_BLOW = { fromS: 0.006, toS: 0.045, rise: 10, ofLoudest: 0.25 }

/**
 * Tells a blow from a voice, a bark or a gust: what was struck is loudest at once and then dies away; what is driven swells
 * and lasts. Two blows within 45 ms are told, too: either may be the one sought.
 *
 * @param samples a sound
 * @param rateHz samples per second of real time
 * @param lowHz its lowest frequency of interest
 * @param onsetS when it sets in, s after the first sample
 * @returns `struck`, or what speaks against one blow: it `swells` after 20 ms, it `lasts` beyond 60 ms, or it comes `twice`, when
 *   the power jumps tenfold again, to a quarter of the loudest or more
 */
export function howItRings(samples: Float32Array, rateHz: number, lowHz: number, onsetS: number): Ringing {
  const power = (fromS: number, toS: number) => {
    const [from, to] = [fromS, toS].map((atS) => Math.max(0, Math.round((onsetS + atS) * rateHz)))
    const part = samples.subarray(from, to)
    return part.length === 0 ? 0 : part.reduce((sum, value) => sum + value * value, 0) / part.length
  }
  const background = power(-0.06, -0.01)
  const lookS = Math.max(0.005, 0.5 / lowHz)
  const { fromS, toS, rise, ofLoudest } = SECOND_BLOW
  let [early, late] = [0, 0]
  for (let atS = 0; atS + lookS <= LOOKED_AT_S; atS += LOOK_STEP_S) {
    const level = power(atS, atS + lookS)
    if (atS <= LOUDEST_WITHIN_S) early = Math.max(early, level)
    else late = Math.max(late, level)
  }
  for (let atS = fromS; atS <= toS; atS += LOOK_STEP_S) {
    const level = power(atS, atS + lookS)
    if (level > ofLoudest * early && level > rise * power(atS - lookS, atS)) return 'twice'
  }
  if (late > SWELL * early) return 'swells'
  const over = (afterS: number, beforeS: number) => Math.max(0, power(afterS, beforeS) - background)
  return over(...LATE_S) > STILL_THERE * over(...EARLY_S) ? 'lasts' : 'struck'
}
