import { bodyAt, bodyPath } from './body-path.ts'
import type { Foot } from './feet.ts'

/** Feet told apart into front and hind, and the shoulders' path that makes them so. */
export interface Gait {
  /** 1 front, -1 hind, parallel to the feet given. */
  readonly limbs: readonly (1 | -1)[]
  /** Shoulders to hips, m. */
  readonly trunkM: number
  /** Middle between shoulders and hips per frame, m along; NaN where no foot is near in time. */
  readonly middleM: Float64Array
  /** Root mean square distance of feet from where shoulders and hips pass over them, m. */
  readonly misfitM: number
}

const WINDOW_S = 0.28

/**
 * Tells front from hind feet: at mid stance a front paw is under the shoulders and a hind paw under the hips, so with
 * the right trunk length and the right labels both lines of feet run along one smooth path.
 *
 * @param feet the dog's, in any order; @param ptsS s per frame
 * @returns labels, trunk length and the path that fit best; never withheld
 */
export function tellLimbs(feet: readonly Foot[], ptsS: Float64Array): Gait {
  let best: Gait | null = null
  let bestCost = Infinity
  for (let trunkM = 0.06; trunkM <= 0.8; trunkM += 0.04) {
    const gait = fitTrunk(feet, ptsS, trunkM)
    // A dog stands about as long on its front paws as on its hind paws.
    let front = 0
    let all = 0
    feet.forEach((f, i) => {
      const stance = f.toFrame - f.fromFrame + 1
      all += stance
      if (gait.limbs[i] === 1) front += stance
    })
    const unbalance = all === 0 ? 0 : Math.abs(front / all - 0.5)
    const cost = gait.misfitM ** 2 + (0.15 * unbalance) ** 2
    if (cost < bestCost) {
      bestCost = cost
      best = gait
    }
  }
  return best!
}

function fitTrunk(feet: readonly Foot[], ptsS: Float64Array, trunkM: number): Gait {
  const plain = bodyPath(feet, ptsS, WINDOW_S)
  const mids = feet.map((f) => (f.fromFrame + f.toFrame) >> 1)
  let limbs: (1 | -1)[] = feet.map((f, i) => (f.alongM >= plain[mids[i]!]! ? 1 : -1))
  let middleM = plain
  for (let round = 0; round < 8; round++) {
    const centred = feet.map((f, i): Foot => ({ ...f, alongM: f.alongM - (limbs[i]! * trunkM) / 2 }))
    middleM = bodyPath(centred, ptsS, WINDOW_S)
    const next = feet.map((f, i): 1 | -1 => {
      // Judged by the others, so that a foot does not vouch for itself.
      const others = centred.filter((_, j) => j !== i)
      const path = bodyAt(others, ptsS, ptsS[mids[i]!]!, WINDOW_S)
      if (Number.isNaN(path)) return limbs[i]!
      return Math.abs(f.alongM - trunkM / 2 - path) <= Math.abs(f.alongM + trunkM / 2 - path) ? 1 : -1
    })
    const same = next.every((l, i) => l === limbs[i])
    limbs = next
    if (same) break
  }
  let sum = 0
  let weight = 0
  feet.forEach((f, i) => {
    const w = f.toFrame - f.fromFrame + 1
    const d = f.alongM - (limbs[i]! * trunkM) / 2 - middleM[mids[i]!]!
    if (Number.isNaN(d)) return
    sum += w * Math.min(d * d, 0.09)
    weight += w
  })
  return { limbs, trunkM, middleM, misfitM: weight === 0 ? 0 : Math.sqrt(sum / weight) }
}
