import { measured, withheld, type Estimate } from '../estimate.ts'
import { normalDensity } from '../numeric/normal.ts'
import { median } from '../numeric/robust.ts'
import { BOARD_HABITS, dropForTurn, type BoardCurve } from './board-curve.ts'
import { passedFromWeights, valueFromPassed } from './grid-posterior.ts'
import type { Landing } from './landing.ts'

/**
 * How high the exit end springs back after the landing.
 *
 * A hop seen in many frames is read off the smoothed curve. A short one falls between the frames: then each share of
 * speed kept (0 to 0.6) and each acceleration back to the ground (0.3 to 30 rad/s2) makes a chain of parabolas, and
 * all are weighed by how well the frames agree.
 *
 * @param curve the board's turn
 * @param landing when and how fast it arrived where
 * @returns height, m; withheld when the board rises without coming down again, or the clip ends too soon
 */
export function findBounce(curve: BoardCurve, landing: Landing): Estimate {
  const groundRad = landing.ground.turnRad
  const hop = seenHop(curve, landing)
  if (hop.kind === 'up') {
    return withheld('not-clear', ROSE_AGAIN)
  }
  if (hop.kind === 'unseen') {
    return withheld('clip-ends', 'The clip ends too soon after the landing to see how the board springs back.')
  }
  if (hop.kind === 'long') {
    const perRad = (curve.lengthM / 2) * Math.cos(curve.restRad + groundRad)
    return measured(heightM(curve, groundRad, hop.heightRad), perRad * hop.sdRad)
  }
  return shortHop(curve, landing)
}

const ROSE_AGAIN = 'The board rose again after the landing and did not come back down.'

type SeenHop =
  | { readonly kind: 'long'; readonly heightRad: number; readonly sdRad: number }
  | { readonly kind: 'short' | 'up' | 'unseen' }

/** Fewest frames in the air for a hop to be read off the curve. */
const LONG_HOP_FRAMES = 6
/** Time after the landing in which a short hop is over, s. */
const SHORT_S = 0.3

/** Follows the smoothed curve from the landing until the board is back on the ground. */
function seenHop(curve: BoardCurve, landing: Landing): SeenHop {
  const { timesS, places } = curve.readings
  const contactS = landing.time.value
  const groundRad = landing.ground.turnRad
  let inAir = 0
  let top = { heightRad: 0, sdRad: 0 }
  for (let i = 0; i < timesS.length; i++) {
    if (timesS[i]! <= contactS) continue
    const { x, xx } = curve.smooth.at(timesS[i]!)!
    const sdRad = Math.hypot(Math.sqrt(xx), landing.ground.sdRad)
    const heightRad = groundRad - x
    if (heightRad > top.heightRad) top = { heightRad, sdRad }
    const isDown = heightRad < Math.max(3 * sdRad, 0.15 * top.heightRad) && groundRad - places[i]! < 0.5 * top.heightRad
    if (inAir >= 1 && (isDown || heightRad < 2 * sdRad)) {
      return inAir >= LONG_HOP_FRAMES ? { kind: 'long', ...top } : { kind: 'short' }
    }
    if (inAir === 0 && timesS[i]! > contactS + SHORT_S / 2) return { kind: 'short' }
    if (heightRad > 3 * sdRad) inAir++
  }
  if (inAir === 0) return { kind: 'unseen' }
  return inAir >= LONG_HOP_FRAMES ? { kind: 'up' } : { kind: 'unseen' }
}

/** Relative error of a hop's height because no hop is an exact parabola (the dog moves meanwhile), 1 sd. */
const PARABOLA_SD = 0.05

/** The ground's level is not known better for the end of a plank, 1 sd, m. */
const LEVEL_SD_M = 0.0005

function shortHop(curve: BoardCurve, landing: Landing): Estimate {
  const { timesS, places, variances } = curve.readings
  const contactS = landing.time.value
  const groundRad = landing.ground.turnRad
  const readings = Array.from(timesS.keys())
    .filter((i) => timesS[i]! > contactS && timesS[i]! < contactS + SHORT_S)
    .map((i) => ({
      afterS: timesS[i]! - contactS,
      heightRad: groundRad - places[i]!,
      variance: variances[i]! + landing.ground.sdRad ** 2,
    }))
  const later = readings.filter(({ afterS }) => afterS > SHORT_S / 2)
  const laterRad = median(later.map(({ heightRad }) => heightRad))
  const laterSd = Math.sqrt(median(later.map(({ variance }) => variance)))
  if (laterRad > 4 * laterSd) return withheld('not-clear', ROSE_AGAIN)
  const hops = hopGrid(landing.speedRadS)
  const logs = hops.map((hop) => hopLog(readings, hop))
  const best = Math.max(...logs)
  const most = hops.reduce((high, hop) => Math.max(high, hop.heightRad), 0) + 1e-6
  const byHeight = new Float64Array(HEIGHT_STEPS)
  hops.forEach((hop, i) => {
    const step = Math.floor(HEIGHT_STEPS * Math.sqrt(hop.heightRad / most))
    byHeight[step]! += Math.exp(logs[i]! - best)
  })
  const edges = Array.from({ length: HEIGHT_STEPS + 1 }, (_, i) =>
    heightM(curve, groundRad, most * (i / HEIGHT_STEPS) ** 2),
  )
  const passed = passedFromWeights(byHeight)
  const floorM = Math.hypot(PARABOLA_SD * valueFromPassed(edges, passed, 0).value, LEVEL_SD_M)
  const { value, sd, ci95 } = valueFromPassed(edges, passed, floorM)
  return { kind: 'measured', value, sd, ci95: [Math.max(ci95[0], 0), ci95[1]] }
}

const HEIGHT_STEPS = 150

/** First hop of a chain; each next one keeps the same share of speed. */
interface Hop {
  readonly heightRad: number
  readonly durationS: number
  readonly restitution: number
}

/** Hops that are tried: shares of speed that a board keeps, and what pulls it back, rad/s^2. */
const RESTITUTIONS = { from: 0.005, to: 0.6, step: 0.01 } as const
const PULLS = { fromRadS2: 0.3, toRadS2: 30, factor: 1.12 } as const
/** Shorter hops are no hops any more, s. */
const SHORTEST_HOP_S = 0.005

function hopGrid(speedRadS: number): Hop[] {
  const hops: Hop[] = []
  for (let restitution = RESTITUTIONS.from; restitution < RESTITUTIONS.to; restitution += RESTITUTIONS.step) {
    for (let pull = PULLS.fromRadS2; pull < PULLS.toRadS2; pull *= PULLS.factor) {
      const up = restitution * speedRadS
      hops.push({ heightRad: up ** 2 / (2 * pull), durationS: (2 * up) / pull, restitution })
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
    const height = heightAt(hop, reading.afterS)
    const sd = Math.hypot(Math.sqrt(reading.variance), PARABOLA_SD * height)
    return sum + Math.log(((1 - share) * normalDensity((reading.heightRad - height) / sd)) / sd + share / range)
  }, 0)
}

/** Height over the ground so long after the landing, rad. */
function heightAt(hop: Hop, afterS: number): number {
  let startS = 0
  let { heightRad, durationS } = hop
  while (durationS > SHORTEST_HOP_S) {
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
