/** The foremost paw in one frame. */
export interface LeadPaw {
  readonly alongM: number
  readonly sdM: number
}

/** A paw that stands from one frame to another, both included. */
export interface StandingFoot {
  readonly alongM: number
  readonly alongSdM: number
  readonly fromFrame: number
  readonly toFrame: number
}

/** Longer before it lands no swinging paw is ahead of the standing one, s (common practice, no source). */
const SWING_S = 0.22
/** A paw swings past the standing one about this long before it lands, s (common practice, no source). */
const PASS_S = 0.12
/** A paw is ahead of another if it lands this much further, m, and belongs to the same step if it does so within this, s. */
const AHEAD_M = 0.03
const STEP_S = 0.6
/** How well a place is known while no paw stands, and shortly before the next one lands, 1 sd, m (our judgement). */
const NONE_STANDS_SD_M = 0.2
const LANDS_SOON_SD_M = 0.05
/** A swinging paw is between both places: at best to this, m, and to this share of the step in mid-swing (our judgement). */
const SWUNG_SD_M = 0.015
const SWUNG_SHARE = 0.25

/**
 * The foremost paw as the standing feet alone tell it: a planted one stands where its footfall is; between two
 * footfalls it swings from the place left to the place reached next.
 *
 * @param frame index; @param feet of one stay
 * @param ptsS time of each frame, s
 * @returns null before the first foot
 */
export function leadPawIn(frame: number, ptsS: Float64Array, feet: readonly StandingFoot[]): LeadPaw | null {
  const t = ptsS[frame]!
  const standing = feet.filter((f) => f.fromFrame <= frame && f.toFrame >= frame)
  const landed = feet.filter((f) => f.fromFrame <= frame)
  if (landed.length === 0) return null
  const stood = standing.length > 0 ? standing : [landed.reduce((a, b) => (b.toFrame > a.toFrame ? b : a))]
  const lead = stood.reduce((a, b) => (b.alongM > a.alongM ? b : a))
  const next = feet
    .filter((f) => f.fromFrame > frame && f.alongM > lead.alongM + AHEAD_M && ptsS[f.fromFrame]! - t < STEP_S)
    .reduce<StandingFoot | null>((a, b) => (a === null || b.fromFrame < a.fromFrame ? b : a), null)
  if (next === null) return { alongM: lead.alongM, sdM: standing.length > 0 ? lead.alongSdM : NONE_STANDS_SD_M }
  const landS = (ptsS[next.fromFrame]! + ptsS[Math.max(0, next.fromFrame - 1)]!) / 2
  if (landS - t > SWING_S)
    return { alongM: lead.alongM, sdM: Math.hypot(lead.alongSdM, standing.length > 0 ? 0 : LANDS_SOON_SD_M) }
  const stepM = next.alongM - lead.alongM
  const share = Math.min(1, Math.max(0, 1 - (landS - t) / PASS_S))
  const swungSd = SWUNG_SD_M + SWUNG_SHARE * stepM * Math.max(SWUNG_SHARE, 4 * share * (1 - share))
  return {
    alongM: lead.alongM + stepM * share * share * (3 - 2 * share),
    sdM: Math.hypot(swungSd, lead.alongSdM),
  }
}
