import type { PlankOutline } from '../board/plank-outline.ts'
import type { ContactBand } from './contact-band.ts'
import { soleOf } from './sole.ts'
import { splitStreak } from './split-streak.ts'
import { describeStreak, findStreaks, type Streak } from './streaks.ts'
import { median } from '../numeric/robust.ts'
import type { Strip, StripGrid } from './strip.ts'

/** A candidate for a planted paw, placed on the plank. */
export interface Foot {
  /** m along, corrected for where across the plank it stands. */
  readonly alongM: number
  readonly alongSdM: number
  readonly fromFrame: number
  readonly toFrame: number
  readonly strength: number
  /** 0-1: how much it looks like a paw on the plank by itself, before its neighbours are asked. */
  readonly likeness: number
}

/**
 * All standing feet in a contact band, those of passers-by included with little likeness.
 *
 * @param outlines the plank's outline per frame, null where it was not followed
 * @param widthM,lengthM of the plank
 * @param grid the cells of the strips
 * @param strips one a frame, null where the plank was not followed
 */
export function findFeet(
  band: ContactBand,
  strips: readonly (Strip | null)[],
  grid: StripGrid,
  outlines: readonly (PlankOutline | null)[],
  lengthM: number,
): Foot[] {
  const streaks = findStreaks(band).flatMap((streak) => splitStreak(streak, band))
  const soleM = soleWidthM(streaks)
  const feet = streaks
    .flatMap((streak) => sideBySide(streak, soleM, band))
    .map((streak): Foot => {
      const share = streak.alongM / lengthM
      const farTopM = (k: number) => {
        const o = outlines[k]
        return o == null ? 0 : o.farTopM[0] + share * (o.farTopM[1] - o.farTopM[0])
      }
      const sole = soleOf(streak, strips, grid, (k) => Math.max(0, farTopM(k)))
      const middle = (streak.fromFrame + streak.toFrame) >> 1
      const outline = outlines[middle]
      const shiftM = outline == null ? 0 : outline.farShiftM[0] + share * (outline.farShiftM[1] - outline.farShiftM[0])
      const stanceS = band.ptsS[streak.toFrame]! - band.ptsS[streak.fromFrame]!
      const across = acrossShare(sole.heightM, farTopM(middle), grid.cellM)
      return {
        alongM: streak.alongM - shiftM * across.share,
        alongSdM: Math.hypot(0.015, shiftM * across.sd),
        fromFrame: streak.fromFrame,
        toFrame: streak.toFrame,
        strength: streak.strength,
        likeness:
          ramp(streak.strength, 1.5, 3.5) *
          seat(sole.topFaceStrength, farTopM(middle), grid.cellM) *
          ramp(sole.legStrength, 1.5, 4) *
          ramp(-Math.abs(streak.driftMps) * stanceS, -0.06, -0.025) *
          ramp(-Math.abs(streak.driftMps), -0.5, -0.25) *
          (1 - 0.85 * ramp(streak.belowStrength, 1.2, 3)) *
          (1 - 0.85 * ramp(streak.passing, 0.2, 0.5) * ramp(-stanceS, -0.6, -0.4)) *
          ramp(-streak.widthM, -0.22, -0.13),
      }
    })
  return joinPieces(feet)
}

/** The usual width of this dog's standing paws: median over streaks that could be one paw, m. */
function soleWidthM(streaks: readonly Streak[]): number {
  const widths = streaks.filter((s) => s.widthM > 0.025 && s.widthM < 0.13 && s.strength > 3).map((s) => s.widthM)
  return widths.length < 3 ? 0.07 : median(widths)
}

/** A streak much wider than a paw that stands a good while is two paws, one at each end. */
function sideBySide(streak: Streak, soleM: number, band: ContactBand): Streak[] {
  const stanceS = band.ptsS[streak.toFrame]! - band.ptsS[streak.fromFrame]!
  const isLeg = streak.belowStrength > 1.2 || streak.passing > 0.4 || Math.abs(streak.driftMps) * stanceS > 0.03
  if (streak.widthM < 1.7 * soleM || streak.widthM > 2.5 * soleM || stanceS < 0.5 || isLeg) return [streak]
  const offM = (streak.widthM - soleM) / 2
  return [-offM, offM].map((shift) => {
    const alongM = streak.alongM + shift
    return describeStreak(band, { ...streak, ...standingSpan(band, alongM, streak), alongM, widthM: soleM })
  })
}

/** From when to when something stands at one place, starting from a time at which it does. */
function standingSpan(
  band: ContactBand,
  alongM: number,
  { fromFrame, toFrame }: Streak,
): { fromFrame: number; toFrame: number } {
  const column = Math.round((alongM - band.fromAlongM) / band.cellM)
  const stands = (k: number) => band.values[k * band.columns + column]! > STANDS_SD
  let from = fromFrame
  let to = toFrame
  while (from > 0 && stands(from - 1)) from--
  while (to < band.ptsS.length - 1 && stands(to + 1)) to++
  return { fromFrame: from, toFrame: to }
}

/** A foot's place is at least this strange while it stands, sd. */
const STANDS_SD = 2

/**
 * A paw covers some of the top face, a person's leg behind the plank ends at its far edge: 1 where something strange is
 * on the top face or the face is too thin to tell, down to 0.4.
 */
function seat(topFaceStrength: number, farTopM: number, cellM: number): number {
  if (farTopM < 4 * cellM) return 1
  return 0.4 + 0.6 * ramp(topFaceStrength, 1.5, 3.5)
}

/**
 * Where across the plank a sole stands, as a share of the width, from how high its lower edge appears between near and
 * far edge. Dogs walk near the middle (common practice, no source): that is the prior, 0.5 with sd 0.22.
 */
function acrossShare(heightM: number | null, farTopM: number, cellM: number): { share: number; sd: number } {
  const prior = 0.22
  if (heightM === null || farTopM < 2 * cellM) return { share: 0.5, sd: prior }
  const seen = Math.min(1.2, Math.max(-0.2, heightM / farTopM))
  const seenSd = (1.2 * cellM) / farTopM
  const weight = prior ** 2 / (prior ** 2 + seenSd ** 2)
  return { share: 0.5 + weight * (seen - 0.5), sd: prior * Math.sqrt(1 - weight) }
}

/** A foot seen in two pieces (something passed behind it) becomes one again; shreds along a foot's side go. */
function joinPieces(feet: readonly Foot[]): Foot[] {
  const weight = (f: Foot) => (f.toFrame - f.fromFrame + 1) * f.strength * (0.1 + f.likeness)
  const out: Foot[] = []
  for (const foot of [...feet].sort((a, b) => weight(b) - weight(a))) {
    const k = out.findIndex((o) => isSamePiece(o, foot) || isShred(o, foot))
    if (k < 0) out.push(foot)
    else if (isSamePiece(out[k]!, foot)) {
      const o = out[k]!
      out[k] = { ...o, fromFrame: Math.min(o.fromFrame, foot.fromFrame), toFrame: Math.max(o.toFrame, foot.toFrame) }
    } else if (foot.likeness > 0.5) {
      // A paw that steps into another's place: the place stays taken until it lifts.
      const o = out[k]!
      out[k] = { ...o, toFrame: Math.max(o.toFrame, foot.toFrame) }
    }
  }
  return out
}

function isSamePiece(a: Foot, b: Foot): boolean {
  const gap = Math.max(a.fromFrame, b.fromFrame) - Math.min(a.toFrame, b.toFrame)
  return Math.abs(a.alongM - b.alongM) < 0.015 && gap <= 3
}

function isShred(major: Foot, minor: Foot): boolean {
  const overlap = Math.min(major.toFrame, minor.toFrame) - Math.max(major.fromFrame, minor.fromFrame) + 1
  return Math.abs(major.alongM - minor.alongM) < 0.04 && overlap > 0.6 * (minor.toFrame - minor.fromFrame + 1)
}

/** 0 below `from`, 1 above `to`, straight between. */
function ramp(value: number, from: number, to: number): number {
  return Math.min(1, Math.max(0, (value - from) / (to - from)))
}
