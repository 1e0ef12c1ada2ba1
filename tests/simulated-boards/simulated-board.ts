import type { Board } from '../../analysis/board/board.ts'
import type { Estimate } from '../../analysis/estimate.ts'
import { measured, withheld } from '../../analysis/estimate.ts'
import type { Random } from '../../analysis/numeric/random.ts'

/** A board whose physics is known, for judging what is told of it. Its own integrator shares nothing with the program. */
export interface TrueBoard {
  readonly board: Board
  readonly plankKg: number
  readonly inertiaKgM2: number
  readonly biasTorqueNm: number
  readonly coulombNm: number
  readonly viscousNms: number
  readonly restRad: number
  readonly groundRad: number
}

/** How a board is filmed. */
export interface Filming {
  readonly rateHz: number
  /** 1 sd of each frame's angle, deg. */
  readonly noiseDeg: number
  /** 1 sd of each timed event, s. */
  readonly eventSdS: number
}

const G = 9.80665
const STEP_S = 0.0005

/** Any ordinary board: 7 to 22 kg, light or stiff in the axle, right, too fast, too slow. */
export function randomBoard(random: Random): TrueBoard {
  const between = (from: number, to: number) => from + (to - from) * random.uniform()
  const lengthM = between(3.6, 3.75)
  const pivotHeightM = between(0.59, 0.63)
  const plankKg = between(7, 22)
  const inertiaKgM2 = ((plankKg * lengthM * lengthM) / 12) * (1 + 0.03 * random.normal())
  const restRad = -Math.asin((pivotHeightM - 0.045) / (lengthM / 2))
  return {
    board: { lengthM, widthM: 0.3, pivotHeightM, contactM: 0.914 },
    plankKg,
    inertiaKgM2,
    biasTorqueNm: between(2, 14),
    coulombNm: between(0.05, 1.6),
    viscousNms: between(0, 6),
    restRad,
    groundRad: -restRad,
  }
}

/** Seconds from letting go to the landing; Infinity when it stays, or does not get down within 60 s. */
export function trueFallS(truth: TrueBoard, massKg: number, massAtM: number): number {
  let landedS = Infinity
  swing(truth, massKg, massAtM, 60, (timeS, angleRad) => {
    if (angleRad >= truth.groundRad && landedS === Infinity) landedS = timeS
    return landedS === Infinity
  })
  return landedS
}

/** The same board with a mass fastened to it, kg, m along. */
export function withFastened(truth: TrueBoard, massKg: number, atM: number): TrueBoard {
  const x = atM - truth.board.lengthM / 2
  return {
    ...truth,
    inertiaKgM2: truth.inertiaKgM2 + massKg * x * x,
    biasTorqueNm: truth.biasTorqueNm - massKg * G * x,
  }
}

/** Whether the empty board leaves the ground with its exit end. */
export function trulyReturns(truth: TrueBoard): boolean {
  return truth.biasTorqueNm * Math.cos(truth.groundRad) > truth.coulombNm
}

/** One drop as `droptest.json` tells it: frames with noise, events with noise and their sd. */
export function filmedDrop(truth: TrueBoard, massKg: number, massAtM: number, filming: Filming, random: Random) {
  const placedS = 1 + 0.3 * random.uniform()
  const releasedS = placedS + 0.4
  const fallS = trueFallS(truth, massKg, massAtM)
  const moves = Number.isFinite(fallS)
  const endS = releasedS + (moves ? fallS + 1 : 3)
  const angles: { readonly timeS: number; readonly rad: number }[] = []
  let tipS = NaN
  const tipRad = truth.restRad + 0.01 / ((truth.board.lengthM / 2) * Math.cos(truth.restRad))
  swing(truth, massKg, massAtM, endS - releasedS, (timeS, rad) => {
    angles.push({ timeS, rad: Math.min(rad, truth.groundRad) })
    if (rad >= tipRad && Number.isNaN(tipS)) tipS = releasedS + timeS
    return rad < truth.groundRad
  })
  const angleAt = (timeS: number) => {
    if (timeS <= releasedS) return truth.restRad
    const k = Math.min(angles.length - 1, Math.round((timeS - releasedS) / STEP_S) - 1)
    return angles[Math.max(0, k)]!.rad
  }
  const ptsS: number[] = []
  const boardAngleDeg: number[] = []
  for (let k = 0; k / filming.rateHz < endS; k++) {
    const timeS = k / filming.rateHz
    ptsS.push(timeS)
    boardAngleDeg.push((angleAt(timeS) * 180) / Math.PI + filming.noiseDeg * random.normal())
  }
  const event = (trueS: number): Estimate => measured(trueS + filming.eventSdS * random.normal(), filming.eventSdS)
  const never = withheld('never-tipped', 'The board never began to tip.')
  const events = {
    placed: event(placedS),
    released: event(releasedS),
    tipStart: moves ? event(tipS) : never,
    grounded: moves ? measured(releasedS + fallS + 0.003 * random.normal(), 0.003) : never,
  }
  return { massKg, massAtM, events, moved: moves, frames: { ptsS, boardAngleDeg } }
}

/** Semi-implicit Euler in steps of half a millisecond, from rest; `seen` stops it by false. */
function swing(
  { inertiaKgM2, biasTorqueNm, coulombNm, viscousNms, restRad, board }: TrueBoard,
  massKg: number,
  massAtM: number,
  forS: number,
  seen: (timeS: number, angleRad: number) => boolean,
): void {
  const d = massAtM - board.lengthM / 2
  const inertia = inertiaKgM2 + massKg * d * d
  let angle = restRad
  let rate = 0
  for (let timeS = STEP_S; timeS <= forS; timeS += STEP_S) {
    const driving = (massKg * G * d - biasTorqueNm) * Math.cos(angle) - viscousNms * rate
    if (rate > 0 || driving > coulombNm) rate += (STEP_S * (driving - coulombNm)) / inertia
    if (rate < 0) rate = 0
    angle += STEP_S * rate
    if (!seen(timeS, angle)) return
  }
}
