import type { Foot } from './feet.ts'

/**
 * The middle between shoulders and hips over time, from the standing feet alone: a local straight line through the
 * places of all feet that stand within a window, so swinging legs, head, tail and handler do not matter.
 *
 * @param feet the dog's standing feet; @param ptsS s, one a frame
 * @param windowS half width of the window; about half a stride
 * @returns m along, one a frame; NaN where no foot stands near
 */
export function bodyPath(feet: readonly Foot[], ptsS: Float64Array, windowS: number): Float64Array {
  return ptsS.map((atS) => bodyAt(feet, ptsS, atS, windowS))
}

/**
 * {@link bodyPath} at one time; `calm` (s^2) draws its slope to 0, the more the larger.
 *
 * @param atS the time wanted, s
 * @param feet standing feet, m along
 * @param ptsS time of each frame, s
 * @param windowS half width of the window, s
 */
export function bodyAt(feet: readonly Foot[], ptsS: Float64Array, atS: number, windowS: number, calm = 0.002): number {
  let s = 0
  let st = 0
  let stt = 0
  let sx = 0
  let stx = 0
  for (const foot of feet) {
    const from = Math.max(ptsS[foot.fromFrame]!, atS - windowS)
    const to = Math.min(ptsS[foot.toFrame]!, atS + windowS)
    if (to < from) continue
    for (let i = 0; i < 8; i++) {
      const t = from + ((i + 0.5) / 8) * (to - from) - atS
      const w = ((to - from) / 8 + 1e-3) * (1 - (t / (1.001 * windowS)) ** 2)
      s += w
      st += w * t
      stt += w * t * t
      sx += w * foot.alongM
      stx += w * t * foot.alongM
    }
  }
  if (s < 0.004) return NaN
  // A little pull towards a level line keeps the slope sane where only one foot is known.
  stt += calm * s
  return (stt * sx - st * stx) / (s * stt - st * st)
}
