import { withheld, type Estimate } from '../estimate.ts'
import { normalCdf } from '../numeric/normal.ts'
import { median } from '../numeric/robust.ts'
import { BOARD_HABITS, turnForDrop, type BoardCurve } from './board-curve.ts'
import { filterBackward, filterForward, indexBefore, type ForwardPass, type Readings } from './motion-curve.ts'
import { joinMotions, motionFrom, moveMotion, type MotionState } from './motion-filter.ts'
import { valueFromPassed } from './grid-posterior.ts'
import { timingFloorS } from './timing-floor.ts'

/** The exit end has begun to tip when it has sunk this far, m. */
export const TIP_DROP_M = 0.01

/** How far around the crossing frames are used, s. */
const BEFORE_S = 0.8
const AFTER_S = 0.3

/** How well a follower of the board keeps its zero while the dog walks over the resting board, 1 sd, rad (0.02 deg). */
const LEVEL_SD_RAD = 3.5e-4

/**
 * How far the followed angle may be off around the tip, when dog and shade move on the plank, 1 sd, rad (0.035 deg): a
 * quarter of a pixel at the end of a plank that fills two thirds of a 1280 px wide picture.
 */
const MOVING_SD_RAD = 6e-4

/**
 * Acceleration at the instant the board comes off its rest, 1 sd, rad/s2: none when a dog walks smoothly past the
 * balance point, a few when a weight is let go or a paw lands.
 */
const FIRST_ACCELERATIONS = [0.2, 3]

/** Chance, before looking, that the board was not lying still just before (it rocked), so that no rest can be assumed. */
const ROCKING_SHARE = 0.2

/**
 * When the exit end had sunk 10 mm from rest, at the last such crossing before an instant.
 *
 * Two kinds of motion are fitted to the frames around the crossing and weighed by how well they explain them: rest up
 * to an unknown instant and from there a smooth fall that begins with zero speed; or a smooth motion without rest.
 * Each fit gives at every instant the probability that the end is below 10 mm; "it has tipped" means it stays there.
 *
 * @param curve the board's turn
 * @param untilS the landing, or for a board that never lands the instant it was seen 50 mm down, s
 * @param scaleSd relative error of the drop from calibration, 1 sd: moves the 10 mm line
 * @returns s; withheld with `clip-ends` when the board is already below 10 mm in the curve's first frame, with
 *   `not-clear` when no fit tells when it crossed the line
 */
export function findTipStart(curve: BoardCurve, untilS: number, scaleSd: number): Estimate {
  const { readings, smooth, frameS } = curve
  const { timesS } = readings
  const lineRad = turnForDrop(TIP_DROP_M, curve.restRad, curve.lengthM)
  let last = indexBefore(timesS, untilS)
  while (last >= 0 && smooth.at(timesS[last]!)!.x >= lineRad) last--
  if (last < 0) return withheld('clip-ends', STARTED_BEFORE)
  const window = windowAround(curve, last, untilS)
  const stepS = Math.min(frameS / 8, FINEST_S)
  const endS = Math.min(timesS[window.to - 1]!, untilS)
  const gridS = Float64Array.from({ length: Math.ceil((endS - timesS[window.from]!) / stepS) + 1 }, (_, i) =>
    Math.min(timesS[window.from]! + i * stepS, endS),
  )
  const below = shareBelow(readings, window, gridS, lineRad, frameS, scaleSd)
  // It has tipped for good only if it does not come back above the line later on.
  for (let i = gridS.length - 2; i >= 0; i--) below[i] = Math.min(below[i]!, below[i + 1]!)
  if (!(below[gridS.length - 1]! - below[0]! > CLEARLY_PASSED)) {
    return withheld('not-clear', 'The start of the tip does not stand out; the board trembled or was hidden.')
  }
  return valueFromPassed(gridS, below, timingFloorS(frameS))
}

/** The line's passing is looked for in steps of no more than this, s; the end of the rest in steps of no less than that. */
const FINEST_S = 0.002
const REST_STEP_S = 0.005
/** The board was above the line and then below it with this probability, or its tip does not stand out. */
const CLEARLY_PASSED = 0.9

const STARTED_BEFORE = 'The board was already tipping when the clip begins; start filming with the board at rest.'

/** Frames `from` to `to` (one beyond) are explained; those from `warmUp` on also count for a motion without rest. */
interface Window {
  readonly warmUp: number
  readonly from: number
  readonly to: number
}

/** The frames around the crossing after frame `last`, not reaching back into an earlier rocking of the board. */
function windowAround(curve: BoardCurve, last: number, untilS: number): Window {
  const { readings, smooth } = curve
  const { timesS } = readings
  const crossingS = timesS[last]!
  let from = last
  let lowest = smooth.at(crossingS)!.x
  while (from > 0 && timesS[from - 1]! > crossingS - BEFORE_S) {
    const turn = smooth.at(timesS[from - 1]!)!
    if (turn.x > Math.max(lowest, 0) + 4 * Math.sqrt(turn.xx) + LEVEL_SD_RAD) break
    lowest = Math.min(lowest, turn.x)
    from--
  }
  let warmUp = from
  while (warmUp > 0 && timesS[warmUp - 1]! > crossingS - BEFORE_S) warmUp--
  let to = last + 1
  while (to < timesS.length && timesS[to]! < untilS && (timesS[to]! < crossingS + AFTER_S || to < last + 5)) to++
  return { warmUp, from, to }
}

/** Probability at each grid time that the end is below the line, over all fits. */
function shareBelow(
  readings: Readings,
  window: Window,
  gridS: Float64Array,
  lineRad: number,
  frameS: number,
  scaleSd: number,
): Float64Array {
  const lineVar = (scaleSd * lineRad) ** 2 + MOVING_SD_RAD ** 2
  const fits = BOARD_HABITS.jerkDensities.flatMap((jerkDensity) => {
    const backward = filterBackward(readings, window.from, window.to, BOARD_HABITS, jerkDensity)
    const fromRest = restFits(readings, window, frameS, jerkDensity)
    return [...fromRest, rockingFit(readings, window, jerkDensity)].map((fit) => ({ ...fit, backward, jerkDensity }))
  })
  const best = Math.max(...fits.map((fit) => fit.logWeight))
  const likely = fits.filter((fit) => fit.logWeight > best - 8)
  const whole = likely.reduce((sum, fit) => sum + Math.exp(fit.logWeight - best), 0)
  const share = new Float64Array(gridS.length)
  for (const fit of likely) {
    const weight = Math.exp(fit.logWeight - best) / whole
    const spreadVar = fit.levelVar + lineVar
    gridS.forEach((timeS, i) => {
      if (timeS <= fit.offS) return
      const k = indexBefore(readings.timesS, timeS)
      const ahead =
        k < fit.first
          ? moveMotion(fit.start, timeS - fit.offS, fit.jerkDensity)
          : moveMotion(fit.pass.states[k - fit.first]!, timeS - readings.timesS[k]!, fit.jerkDensity)
      const next = fit.backward[k + 1 - window.from]
      const turn =
        next === undefined
          ? ahead
          : joinMotions(ahead, moveMotion(next, timeS - readings.timesS[k + 1]!, fit.jerkDensity))
      share[i]! += weight * normalCdf((turn.x - fit.levelRad - lineRad) / Math.sqrt(turn.xx + spreadVar))
    })
  }
  return share
}

interface TipFit {
  readonly logWeight: number
  /** When the board comes off its rest, s; -Infinity when no rest is assumed. */
  readonly offS: number
  /** State at `offS`; unused without rest. */
  readonly start: MotionState
  /** The frames from index `first` on, which the fall explains. */
  readonly first: number
  readonly pass: ForwardPass
  /** Where the frames show the resting board: its mean and variance. */
  readonly levelRad: number
  readonly levelVar: number
}

/** Fits that begin with rest, for every instant the board may come off it. */
function restFits(readings: Readings, window: Window, frameS: number, jerkDensity: number): TipFit[] {
  const { timesS } = readings
  const stepS = Math.max(frameS / 4, REST_STEP_S)
  const fits: TipFit[] = []
  const noiseVar = median(readings.variances.slice(window.from, window.to))
  let level = motionFrom(0, 0, 0, LEVEL_SD_RAD ** 2 + noiseVar / 16, 0, 0)
  let restLog = 0
  let first = window.from
  const count = Math.max(1, Math.floor((timesS[window.to - 1]! - timesS[window.from]!) / stepS))
  for (let n = 0; n < count; n++) {
    const offS = timesS[window.from]! + n * stepS
    while (first < window.to && timesS[first]! <= offS) {
      const fall = filterForward(readings, first, first + 1, BOARD_HABITS, 0, level)
      level = fall.states[0]!
      restLog += fall.logEvidences[0]!
      first++
    }
    // The frames at rest have left the smooth motion behind by hundreds of sd: nothing later can be better.
    if (fits.length > 0 && restLog < fits[0]!.logWeight - 1000) break
    for (const acceleration of FIRST_ACCELERATIONS) {
      const start = motionFrom(level.x, 0, 0, level.xx, 0, acceleration ** 2)
      const atFirst = moveMotion(start, timesS[first]! - offS, jerkDensity)
      const pass = filterForward(readings, first, window.to, BOARD_HABITS, jerkDensity, atFirst)
      const prior = (1 - ROCKING_SHARE) / (count * FIRST_ACCELERATIONS.length)
      const logWeight = restLog + pass.logEvidences[window.to - 1 - first]! + Math.log(prior)
      fits.push({ logWeight, offS, start, first, pass, levelRad: level.x, levelVar: level.xx })
    }
  }
  return fits
}

/** A smooth motion without rest through the window; earlier frames tell how it came in. */
function rockingFit(readings: Readings, window: Window, jerkDensity: number): TipFit {
  const { warmUp, from, to } = window
  const pass = filterForward(readings, warmUp, to, BOARD_HABITS, jerkDensity)
  const before = from > warmUp ? pass.logEvidences[from - 1 - warmUp]! : 0
  return {
    logWeight: pass.logEvidences[to - 1 - warmUp]! - before + Math.log(ROCKING_SHARE),
    offS: -Infinity,
    start: pass.states[0]!,
    first: warmUp,
    pass,
    levelRad: 0,
    levelVar: LEVEL_SD_RAD ** 2,
  }
}
