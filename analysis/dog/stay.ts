import { REACH_M, type Corridor } from './corridor.ts'
import type { Foot } from './feet.ts'
import { quantile } from '../numeric/robust.ts'
import { tellLimbs, type Gait } from './limbs.ts'

/** One stay of the dog on the plank: its feet, told apart, in order of touch-down. */
export interface Stay {
  readonly feet: readonly Foot[]
  readonly gait: Gait
}

/** Something that stands so long is less likely an accident, s. */
const LONG_S = 0.25
/** A dog is off the plank when no foot stands for this long (a leap's flight lasts less), s. */
const OFF_S = 0.6

/**
 * Picks the dog's feet out of all candidates: those on the plank, along the corridor, that fit one body; split into
 * stays where no foot stands for a while.
 *
 * @param lengthM length of the plank, m
 * @param ptsS time of each frame, s
 * @returns stays in order of time; stays with less than two likely feet are dropped
 */
export function findStays(feet: readonly Foot[], corridor: Corridor, ptsS: Float64Array, lengthM: number): Stay[] {
  const near = feet
    .filter(
      (f) =>
        f.likeness > (ptsS[f.toFrame]! - ptsS[f.fromFrame]! > LONG_S ? 0.22 : 0.4) &&
        f.alongM > -0.03 &&
        f.alongM < lengthM + 0.03,
    )
    .filter((f) => Math.abs(f.alongM - corridor[(f.fromFrame + f.toFrame) >> 1]!) < REACH_M)
    .sort((a, b) => a.fromFrame - b.fromFrame)
  const groups = linked(near, ptsS)
  return groups.flatMap((group) => {
    const stay = oneBody(group, ptsS)
    const sure = stay.feet.reduce((sum, f) => sum + f.likeness, 0)
    return sure < 1.2 ? [] : [stay]
  })
}

/** Groups of feet that one dog can have had: each within a body and a stride of another in place and time. */
function linked(feet: readonly Foot[], ptsS: Float64Array): Foot[][] {
  const group = feet.map((_, i) => i)
  const root = (i: number): number => (group[i] === i ? i : root(group[i]!))
  for (let i = 0; i < feet.length; i++) {
    for (let j = i + 1; j < feet.length; j++) {
      const a = feet[i]!
      const b = feet[j]!
      const gapS = Math.max(
        0,
        Math.max(ptsS[a.fromFrame]!, ptsS[b.fromFrame]!) - Math.min(ptsS[a.toFrame]!, ptsS[b.toFrame]!),
      )
      if (gapS < OFF_S && Math.abs(a.alongM - b.alongM) < 0.85 + 2 * gapS) group[root(j)] = root(i)
    }
  }
  const groups = new Map<number, Foot[]>()
  feet.forEach((f, i) => {
    const r = root(i)
    const g = groups.get(r)
    if (g === undefined) groups.set(r, [f])
    else g.push(f)
  })
  return [...groups.values()]
}

/** Drops feet that no one dog could have had together, worst first. */
function oneBody(group: readonly Foot[], ptsS: Float64Array): Stay {
  let feet = [...group]
  const bodyM =
    0.12 +
    1.2 *
      pawSpreadM(
        group.filter((f) => f.likeness > 0.5),
        ptsS,
      )
  for (let round = 0; round < 12 && feet.length > 2; round++) {
    let worst = -1
    let worstScore = 0
    feet.forEach((f, i) => {
      const score = jumpM(f, feet, ptsS, bodyM) * (1.3 - f.likeness)
      if (score > worstScore) {
        worstScore = score
        worst = i
      }
    })
    if (worst < 0) break
    feet = feet.filter((_, i) => i !== worst)
  }
  const kept = trimEnds(feet, ptsS)
  return { feet: kept, gait: tellLimbs(kept, ptsS) }
}

/** Paws that stand at the same time are no further apart, m. */
const LONGEST_M = 0.95

/**
 * By how much a foot's place breaks what a body can do: landing far behind all feet that stood a moment ago, lifting
 * off far ahead of all that stand a moment later, or standing too far from another, m; 0 when possible.
 */
function jumpM(foot: Foot, feet: readonly Foot[], ptsS: Float64Array, bodyM: number): number {
  const fromS = ptsS[foot.fromFrame]!
  const toS = ptsS[foot.toFrame]!
  let before = Infinity
  let after = -Infinity
  let apart = 0
  for (const g of feet) {
    if (g === foot || g.likeness < 0.3) continue
    const gFromS = ptsS[g.fromFrame]!
    const gToS = ptsS[g.toFrame]!
    if (gFromS < fromS && gToS > fromS - 0.15) before = Math.min(before, g.alongM)
    if (gToS > toS && gFromS < toS + 0.15) after = Math.max(after, g.alongM)
    if (Math.min(gToS, toS) - Math.max(gFromS, fromS) > 0.05) apart = Math.max(apart, Math.abs(g.alongM - foot.alongM))
  }
  return Math.max(
    0,
    before === Infinity ? 0 : before - bodyM - foot.alongM,
    after === -Infinity ? 0 : foot.alongM - after - bodyM,
    apart - LONGEST_M,
  )
}

/**
 * How far apart paws stand at a time: upper quartile over the feet given, m; 0.5 where no two stand together.
 *
 * @param ptsS time of each frame, s
 */
export function pawSpreadM(feet: readonly Foot[], ptsS: Float64Array): number {
  const spreads: number[] = []
  for (const f of feet) {
    const atS = (ptsS[f.fromFrame]! + ptsS[f.toFrame]!) / 2
    const standing = feet.filter((g) => ptsS[g.fromFrame]! <= atS && ptsS[g.toFrame]! >= atS).map((g) => g.alongM)
    if (standing.length > 1) spreads.push(Math.max(...standing) - Math.min(...standing))
  }
  return spreads.length === 0 ? 0.5 : quantile(spreads, 0.75)
}

/** A short step so long before or after all others is somebody else's, s: no flight between two steps lasts as long. */
const ALONE_S = 0.3

/** The first and the last foot of a stay decide when the dog got on and off: a doubtful one must not. */
function trimEnds(feet: readonly Foot[], ptsS: Float64Array): Foot[] {
  let kept = [...feet]
  for (;;) {
    const doubtful = kept.find((f) => {
      const others = kept.filter((g) => g !== f)
      if (others.length === 0) return false
      const lastS = Math.max(...others.map((g) => ptsS[g.toFrame]!))
      const firstS = Math.min(...others.map((g) => ptsS[g.fromFrame]!))
      const apartS = Math.max(ptsS[f.fromFrame]! - lastS, firstS - ptsS[f.toFrame]!)
      if (apartS > ALONE_S && ptsS[f.toFrame]! - ptsS[f.fromFrame]! < ALONE_S) return true
      if (f.likeness >= 0.7) return false
      return ptsS[f.toFrame]! > lastS + 0.05 || ptsS[f.fromFrame]! < firstS - 0.05
    })
    if (doubtful === undefined) return kept
    kept = kept.filter((f) => f !== doubtful)
  }
}
