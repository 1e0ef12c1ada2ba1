import { REACH_M, type Corridor } from './corridor.ts'
import type { Foot } from './feet.ts'
import { tellLimbs, type Gait } from './limbs.ts'

/** One stay of the dog on the plank: its feet, told apart, in order of touch-down. */
export interface Stay {
  readonly feet: readonly Foot[]
  readonly gait: Gait
}

/** A dog is off the plank when no foot stands for this long (a leap's flight lasts less), s. */
const OFF_S = 0.7

/**
 * Picks the dog's feet out of all candidates: those on the plank, along the corridor, that fit one body; split into
 * stays where no foot stands for a while.
 *
 * @returns stays in order of time; stays with less than two likely feet are dropped
 */
export function findStays(feet: readonly Foot[], corridor: Corridor, ptsS: Float64Array, lengthM: number): Stay[] {
  const near = feet
    .filter((f) => f.likeness > 0.15 && f.alongM > -0.03 && f.alongM < lengthM + 0.03)
    .filter((f) => Math.abs(f.alongM - corridor[(f.fromFrame + f.toFrame) >> 1]!) < REACH_M)
    .sort((a, b) => a.fromFrame - b.fromFrame)
  const groups: Foot[][] = []
  let until = -Infinity
  for (const foot of near) {
    if (ptsS[foot.fromFrame]! - until > OFF_S || groups.length === 0) groups.push([])
    groups[groups.length - 1]!.push(foot)
    until = Math.max(until, ptsS[foot.toFrame]!)
  }
  return groups.flatMap((group) => {
    const stay = oneBody(group, ptsS)
    const sure = stay.feet.reduce((sum, f) => sum + f.likeness, 0)
    return sure < 1.2 ? [] : [stay]
  })
}

/** Drops feet that no dog of this trunk could have there, worst first. */
function oneBody(group: readonly Foot[], ptsS: Float64Array): Stay {
  let feet = [...group]
  let gait = tellLimbs(feet, ptsS)
  for (let round = 0; round < 12 && feet.length > 3; round++) {
    const reach = 0.12 + 0.6 * gait.trunkM
    let worst = -1
    let worstExcess = 0
    feet.forEach((f, i) => {
      const home = gait.middleM[(f.fromFrame + f.toFrame) >> 1]! + (gait.limbs[i]! * gait.trunkM) / 2
      const excess = (Math.abs(f.alongM - home) - reach * (0.3 + 0.7 * f.likeness)) / (0.3 + f.likeness)
      if (excess > worstExcess) {
        worstExcess = excess
        worst = i
      }
    })
    if (worst < 0) break
    feet = feet.filter((_, i) => i !== worst)
    gait = tellLimbs(feet, ptsS)
  }
  return { feet, gait }
}
