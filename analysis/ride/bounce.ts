import { withheld, type Estimate } from '../estimate.ts'
import { normalDensity } from '../numeric/normal.ts'
import { BOARD_HABITS, dropForTurn, type BoardCurve } from './board-curve.ts'
import type { Landing } from './landing.ts'
import { passedFromWeights, valueFromPassed } from './grid-posterior.ts'

/** A spring back lasts no longer than this when a dog or weight holds the board down, s. */
const LONGEST_S = 0.8
/** No end keeps more than this share of its speed (measured in laboratories up to about 0.6 for metal on stone; here with room). */
const MOST_RESTITUTION = 0.7

/**
 * How high the exit end springs back after the landing.
 *
 * Hops are parabolas from the ground; each keeps the same share of the speed of the one before. Every pair of height
 * and duration of the first hop is weighed by how well the frames after the landing agree.
 *
 * @param curve the board's turn
 * @param landing when and how fast it arrived where
 * @returns height, m; withheld when the board does not come down again within 0.8 s or the clip ends before
 */
export function findBounce(curve: BoardCurve, landing: Landing): Estimate {
  const { timesS, places, variances } = curve.readings
  const contactS = landing.time.value
  const groundRad = landing.ground.turnRad
  const frames = Array.from(timesS.keys()).filter(
    (i) => timesS[i]! > contactS && timesS[i]! < contactS + 1.5 * LONGEST_S,
  )
  const lastS = frames.length > 0 ? timesS[frames[frames.length - 1]!]! : contactS
  if (lastS < contactS + 0.15) {
    return withheld('clip-ends', 'The clip ends too soon after the landing to see how the board springs back.')
  }
  const readings = frames.map((i) => ({
    afterS: timesS[i]! - contactS,
    heightRad: groundRad - places[i]!,
    variance: variances[i]! + landing.ground.sdRad ** 2,
  }))
  const mostSpeed = MOST_RESTITUTION * Math.max(landing.speedRadS, 0.05)
  const hops = hopGrid(mostSpeed)
  const logs = hops.map((hop) => hopLog(readings, hop))
  const best = Math.max(...logs)
  const byHeight = new Float64Array(HEIGHT_STEPS)
  let staysUp = 0
  let whole = 0
  hops.forEach((hop, i) => {
    const weight = Math.exp(logs[i]! - best)
    whole += weight
    byHeight[hop.step]! += weight
    if (hop.durationS > Math.min(LONGEST_S, lastS - contactS) - 0.05) staysUp += weight
  })
  if (staysUp > 0.2 * whole) {
    return withheld(
      'not-clear',
      'The board rose again after the landing without coming back down, so there is no bounce.',
    )
  }
  const edges = Array.from({ length: HEIGHT_STEPS + 1 }, (_, i) => heightM(curve, groundRad, heightOf(i, mostSpeed)))
  const height = valueFromPassed(edges, passedFromWeights(byHeight), 0)
  return valueFromPassed(edges, passedFromWeights(byHeight), PARABOLA_SD * height.value)
}

/** Relative error of a hop's height because no hop is an exact parabola (the dog moves meanwhile), 1 sd. */
const PARABOLA_SD = 0.05

const HEIGHT_STEPS = 120
const DURATION_STEPS = 40

interface Hop {
  readonly step: number
  readonly heightRad: number
  readonly durationS: number
  readonly restitution: number
}

/** Grid of heights, rad: fine near the ground, up to the highest hop that starts with this speed. */
function heightOf(step: number, mostSpeed: number): number {
  return ((mostSpeed * LONGEST_S) / 4) * (step / HEIGHT_STEPS) ** 2
}

function hopGrid(mostSpeed: number): Hop[] {
  const hops: Hop[] = []
  for (let step = 0; step < HEIGHT_STEPS; step++) {
    const heightRad = heightOf(step + 0.5, mostSpeed)
    for (let n = 1; n <= DURATION_STEPS; n++) {
      const durationS = (n * LONGEST_S) / DURATION_STEPS
      // A parabola of this height and duration starts with the speed 4 height / duration.
      if ((4 * heightRad) / durationS > mostSpeed) continue
      for (const restitution of [0, 0.25, 0.5]) hops.push({ step, heightRad, durationS, restitution })
    }
  }
  return hops
}

function hopLog(
  readings: readonly { readonly afterS: number; readonly heightRad: number; readonly variance: number }[],
  hop: Hop,
): number {
  const { share, range } = BOARD_HABITS.outliers
  return readings.reduce((sum, reading) => {
    const sd = Math.sqrt(reading.variance)
    const off = reading.heightRad - heightAt(hop, reading.afterS)
    return sum + Math.log(((1 - share) * normalDensity(off / sd)) / sd + share / range)
  }, 0)
}

/** Height over the ground so long after the landing, rad. */
function heightAt(hop: Hop, afterS: number): number {
  let startS = 0
  let { heightRad, durationS } = hop
  while (durationS > 0.005) {
    const part = (afterS - startS) / durationS
    if (part < 1) return 4 * heightRad * part * (1 - part)
    startS += durationS
    durationS *= hop.restitution
    heightRad *= hop.restitution ** 2
  }
  return 0
}

function heightM(curve: BoardCurve, groundRad: number, heightRad: number): number {
  const { restRad, lengthM } = curve
  return dropForTurn(groundRad, restRad, lengthM) - dropForTurn(groundRad - heightRad, restRad, lengthM)
}
