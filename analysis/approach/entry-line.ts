import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import { applyHomography, homographyFromPoints } from '../geometry/homography.ts'
import { entryEndXM } from './approach-grids.ts'
import type { GroundPaw } from './ground-paws.ts'

/** The line of a dog's run up on the ground: aside = offsetM - slope x ahead, with its spread. */
export interface EntryLine {
  /** Sideways per metre, positive when it comes from the camera's side. */
  readonly slope: number
  readonly slopeSd: number
  /** Where it meets the entry end, from the plank's middle line, positive towards the camera, m. */
  readonly offsetM: number
  readonly offsetSdM: number
  /** Paws that lie on it. */
  readonly paws: number
  /** From the first to the last of them, m. */
  readonly spanM: number
}

/** What is known before any paw is seen: dogs mostly come straight, and a dog that gets on a plank meets its end (our judgement). */
const BEFORE = { slopeSd: 0.28, offsetSdM: 0.12 }
/** While lines are weighed, only what is tried ends them. */
const WIDE = 3
/** What is tried, and how finely. */
const SLOPES = { most: 1.2, step: 0.04 }
const OFFSETS_M = { most: 0.7, step: 0.03 }
/** Left and right paws stand this far to either side of the middle, toy to large dogs, m (our judgement). */
const HALF_TRACKS_M = [0.02, 0.045, 0.07, 0.095]
/**
 * What stands still and is no paw on the ground is mostly a part of a leg higher up, which seems to be further away: so
 * likely to the far side and to the near side, anywhere within so much, m.
 */
const OTHERS = { farShare: 0.14, nearShare: 0.03, rangeM: 1 }
/** A paw's place aside is known to this, decoded px, and no better than this, m: soles, grass, the dog's own sway. */
const PAW_SD = { px: 0.8, m: 0.02 }
/** Ground before a plank is level with that below it to this, and rises or falls by this, m and m per m. */
const GROUND_SD = { levelM: 0.007, tilt: 0.006 }

/**
 * How far aside a step of one decoded pixel down the picture goes on the ground.
 *
 * @param camera calibrated; @param scale decoded px per full-resolution px; @param aheadM where, from the entry end, m
 * @returns m
 */
export function asidePerPx(camera: SeesawCamera, scale: number, aheadM: number): number {
  const at = (asideM: number) =>
    camera.imageFromWorld({ xM: entryEndXM(camera) + aheadM, yM: 0, acrossM: camera.widthM / 2 - asideM })
  const stepM = 0.1
  return (2 * stepM) / (scale * Math.abs(at(stepM).yPx - at(-stepM).yPx))
}

/**
 * The line that a dog came along, from where its paws stood: all lines are weighed, left and right paws half a track to
 * either side of it, some points no paws at all.
 *
 * @param paws on the ground, as the best camera places them
 * @param camera the best one; @param draws others that may be true as well
 * @param scale decoded px per full-resolution px
 * @returns the mean over all lines, with what is not known of the camera and the ground in its spread
 */
export function entryLine(
  paws: readonly GroundPaw[],
  camera: SeesawCamera,
  draws: readonly SeesawCamera[],
  scale: number,
): EntryLine {
  const sdsM = paws.map(({ aheadM }) => Math.hypot(PAW_SD.m, PAW_SD.px * asidePerPx(camera, scale, aheadM)))
  const sums = { weight: 0, s: 0, o: 0, ss: 0, oo: 0, so: 0 }
  let best = { log: -Infinity, slope: 0, offsetM: 0, halfM: 0.05 }
  const tried: { log: number; slope: number; offsetM: number }[] = []
  for (let slope = -SLOPES.most; slope <= SLOPES.most; slope += SLOPES.step) {
    for (let offsetM = -OFFSETS_M.most; offsetM <= OFFSETS_M.most; offsetM += OFFSETS_M.step) {
      const before = (-0.5 / WIDE ** 2) * ((slope / BEFORE.slopeSd) ** 2 + (offsetM / BEFORE.offsetSdM) ** 2)
      for (const halfM of HALF_TRACKS_M) {
        let log = before
        for (let i = 0; i < paws.length; i++) log += Math.log(likelihood(paws[i]!, sdsM[i]!, slope, offsetM, halfM))
        tried.push({ log, slope, offsetM })
        if (log > best.log) best = { log, slope, offsetM, halfM }
      }
    }
  }
  for (const { log, slope, offsetM } of tried) {
    const weight = Math.exp(log - best.log)
    sums.weight += weight
    sums.s += weight * slope
    sums.o += weight * offsetM
    sums.ss += weight * slope * slope
    sums.oo += weight * offsetM * offsetM
    sums.so += weight * slope * offsetM
  }
  const [slope, offsetM] = [sums.s / sums.weight, sums.o / sums.weight]
  const onLine = paws.filter((paw, i) => {
    const onIt = likelihood(paw, sdsM[i]!, best.slope, best.offsetM, best.halfM)
    return onIt > 2 * (OTHERS.farShare / OTHERS.rangeM)
  })
  const camerasSay = spreadOfCameras(onLine, camera, draws)
  const aheads = onLine.map(({ aheadM }) => aheadM)
  const perHeight = asidePerHeight(camera)
  const seen = {
    slope,
    offsetM,
    slopeVar: sums.ss / sums.weight - slope ** 2 + camerasSay.slope + (GROUND_SD.tilt * perHeight) ** 2,
    offsetVar: sums.oo / sums.weight - offsetM ** 2 + camerasSay.offset + (GROUND_SD.levelM * perHeight) ** 2,
    covariance: sums.so / sums.weight - slope * offsetM + camerasSay.both,
  }
  return {
    ...withBefore(seen),
    paws: onLine.length,
    spanM: aheads.length === 0 ? 0 : Math.max(...aheads) - Math.min(...aheads),
  }
}

/** A normal distribution over lines, put together with what is known before any paw is seen. */
function withBefore(seen: {
  readonly slope: number
  readonly offsetM: number
  readonly slopeVar: number
  readonly offsetVar: number
  readonly covariance: number
}): Pick<EntryLine, 'slope' | 'slopeSd' | 'offsetM' | 'offsetSdM'> {
  const { slope, offsetM, slopeVar, offsetVar, covariance } = seen
  const determinant = slopeVar * offsetVar - covariance ** 2
  const [a, b, c] = [offsetVar / determinant, -covariance / determinant, slopeVar / determinant]
  const [at, dt] = [a + 1 / BEFORE.slopeSd ** 2, c + 1 / BEFORE.offsetSdM ** 2]
  const both = at * dt - b * b
  const [toSlope, toOffset] = [a * slope + b * offsetM, b * slope + c * offsetM]
  return {
    slope: (dt * toSlope - b * toOffset) / both,
    slopeSd: Math.sqrt(dt / both),
    offsetM: (at * toOffset - b * toSlope) / both,
    offsetSdM: Math.sqrt(at / both),
  }
}

/** Density of a paw's place aside, 1/m. */
function likelihood({ aheadM, asideM }: GroundPaw, sdM: number, slope: number, offsetM: number, halfM: number): number {
  const off = asideM - (offsetM - slope * aheadM)
  const one = Math.exp(-0.5 * ((off - halfM) / sdM) ** 2) + Math.exp(-0.5 * ((off + halfM) / sdM) ** 2)
  const other = (off < 0 ? OTHERS.farShare : OTHERS.nearShare) / OTHERS.rangeM
  return (1 - OTHERS.farShare - OTHERS.nearShare) * ((0.5 * one) / (sdM * Math.sqrt(2 * Math.PI))) + other
}

/** How far aside a point of the ground seems to go when the ground is a metre higher, m per m. */
function asidePerHeight(camera: SeesawCamera): number {
  const xM = entryEndXM(camera) - 0.7
  const acrossM = camera.widthM / 2
  const raised = camera.imageFromWorld({ xM, yM: 0.05, acrossM })
  const there = camera.imageFromWorld({ xM, yM: 0, acrossM })
  const aside = camera.imageFromWorld({ xM, yM: 0, acrossM: acrossM + 0.1 })
  return (2 * (raised.yPx - there.yPx)) / (aside.yPx - there.yPx)
}

/** Variances of slope and offset, and their covariance, by which camera is the true one. */
function spreadOfCameras(paws: readonly GroundPaw[], camera: SeesawCamera, draws: readonly SeesawCamera[]) {
  const images = paws.map(({ aheadM, asideM }) => imageOf(camera, aheadM, asideM))
  const plain = straightLine(paws.map(({ aheadM, asideM }) => [aheadM, asideM] as const))
  if (plain === null || draws.length === 0) return { slope: 0, offset: 0, both: 0 }
  let [slope, offset, both, count] = [0, 0, 0, 0]
  for (const draw of draws) {
    const corners = [
      [-1.5, -0.5],
      [-1.5, 0.5],
      [0, -0.5],
      [0, 0.5],
    ] as const
    const groundFromImage = homographyFromPoints(
      corners.map(([aheadM, asideM]) => imageOf(draw, aheadM, asideM)),
      corners,
    )
    if (groundFromImage === null) continue
    const line = straightLine(images.map(([xPx, yPx]) => applyHomography(groundFromImage, xPx, yPx)))
    if (line === null) continue
    const [ds, dof] = [line.slope - plain.slope, line.offsetM - plain.offsetM]
    slope += ds * ds
    offset += dof * dof
    both += ds * dof
    count++
  }
  return count === 0
    ? { slope: 0, offset: 0, both: 0 }
    : { slope: slope / count, offset: offset / count, both: both / count }
}

function imageOf(camera: SeesawCamera, aheadM: number, asideM: number): readonly [number, number] {
  const xM = entryEndXM(camera) + aheadM
  const { xPx, yPx } = camera.imageFromWorld({ xM, yM: 0, acrossM: camera.widthM / 2 - asideM })
  return [xPx, yPx]
}

/** Least squares of points (ahead, aside), m; null where they lie at one place. */
function straightLine(points: readonly (readonly [number, number])[]): { slope: number; offsetM: number } | null {
  const n = points.length
  const meanX = points.reduce((sum, [x]) => sum + x, 0) / n
  const meanY = points.reduce((sum, [, y]) => sum + y, 0) / n
  const xx = points.reduce((sum, [x]) => sum + (x - meanX) ** 2, 0)
  const xy = points.reduce((sum, [x, y]) => sum + (x - meanX) * (y - meanY), 0)
  if (!(xx > 1e-4)) return null
  return { slope: -xy / xx, offsetM: meanY - (xy / xx) * meanX }
}
