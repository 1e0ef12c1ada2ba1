import { plankOutline } from '../scene/plank-outline.ts'
import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import { sampleColour } from '../clip/sampling.ts'
import { applyHomography, invertHomography } from '../geometry/homography.ts'
import { evenlySpread } from '../numeric/evenly-spread.ts'
import { groupOf, LevelCounts } from '../numeric/level-counts.ts'
import type { Still } from '../scene/background.ts'
import { decodedPxM } from '../scene/learn-scene.ts'

/** Fewer stills than this tell no spread. */
const FEWEST_FOR_SPREAD = 4
/** Variance of a grey level beside its spread in the stills, and how much that spread counts; of luma and of chroma. */
const LUMA_VARIANCE = { noise: 12, perSpread: 1.5 } as const
const CHROMA_VARIANCE = { noise: 6, perSpread: 0.08 } as const
/** Where the plank's angle is not known, these shares of its swing are kept clear. */
const SWING_SHARES = [0, 0.25, 0.5, 0.75, 1] as const

/** A lattice of points in the reference frame, far enough apart to be quick: what a dog on the plank can hide. */
export interface Lattice {
  /** The first point, and how far apart they are; full-resolution image px of the reference frame. */
  readonly x0Px: number
  readonly y0Px: number
  readonly stepPx: number
  /** The same at the plank, m. */
  readonly stepM: number
  readonly columns: number
  readonly rows: number
  /** From where to where above the plank it reaches, at any angle, m. */
  readonly band: Band
}

/** Heights above the plank's near edge, m. */
export interface Band {
  readonly from: number
  readonly to: number
}

/** What each point of a lattice shows without plank, dog and people, row by row. */
export interface Surroundings {
  readonly lattice: Lattice
  /** NaN where it was never seen. */
  readonly y: Float32Array
  readonly u: Float32Array
  readonly v: Float32Array
  /** How exactly luma is known, 1 / variance; and either chroma. */
  readonly precisionY: Float32Array
  readonly precisionUv: Float32Array
}

/** The plank is kept out of the stills by this much more than its own outline, m. */
const MARGIN_M = 0.03
/** So close to its resting angle the board is at rest, rad; so many stills of it are enough. */
const AT_REST_RAD = 0.01
const ENOUGH_AT_REST = 4
const MOST_AT_REST = 13
/** Distance of the quartiles of a normal distribution, sd. */
const QUARTILES_SD = 1.349
/** A median over few stills may be of something that stood there: least spread by number of stills, grey levels. */
const FEW_SPREAD = [18, 18, 16, 13, 9, 6]

/** How far apart points are at the plank, m: a leg is two of them wide. */
const STEP_M = 0.015
/** How far beyond the plank's ends a dog that is still on it can be seen, m. */
export const BEYOND_M = 1

/**
 * The lattice over all that a dog on the plank can hide.
 *
 * @param camera the calibrated seesaw camera
 * @param band from where to where above the plank, m
 * @param scale decoded px per full-resolution px: points are not closer than decoded pixels
 * @returns points from the upper left corner of the swept part on
 */
export function latticeAbout(camera: SeesawCamera, band: Band, scale: number): Lattice {
  const corners = [camera.restAngleRad, camera.groundedAngleRad].flatMap((angleRad) =>
    [-BEYOND_M, camera.lengthM + BEYOND_M].flatMap((alongM) =>
      [band.from, band.to].map((aboveM) => camera.imageFromPlank({ alongM, aboveM, acrossM: 0 }, angleRad)),
    ),
  )
  const xs = corners.map(({ xPx }) => xPx)
  const ys = corners.map(({ yPx }) => yPx)
  const pxM = decodedPxM(camera, scale)
  const stepM = Math.max(STEP_M, pxM)
  const stepPx = stepM / pxM / scale
  const [x0Px, y0Px] = [Math.min(...xs), Math.min(...ys)]
  return {
    x0Px,
    y0Px,
    stepPx,
    stepM,
    band,
    columns: Math.ceil((Math.max(...xs) - x0Px) / stepPx),
    rows: Math.ceil((Math.max(...ys) - y0Px) / stepPx),
  }
}

/**
 * Learns what stands around the plank: the median, point by point, over stills in which the plank is elsewhere.
 *
 * @param camera calibrated on the reference frame
 * @param stills 3 to about 40, spread over the stretch
 * @param lattice where to look
 * @returns one value a point
 */
export function learnSurroundings(camera: SeesawCamera, stills: readonly Still[], lattice: Lattice): Surroundings {
  const { columns, rows, x0Px, y0Px, stepPx } = lattice
  const isWanted = sweepTest(camera, lattice.band)
  const placeOf = (column: number, row: number): readonly [number, number] | null => {
    const [xPx, yPx] = [x0Px + column * stepPx, y0Px + row * stepPx]
    return isWanted(xPx, yPx) ? [xPx, yPx] : null
  }
  return { lattice, ...learnPlaces(camera, stills, { columns, rows, placeOf }) }
}

/** Points of the reference frame in rows and columns, neighbours in the picture as in the grid. */
export interface Places {
  readonly columns: number
  readonly rows: number
  /** Full-resolution image px; null where nothing need be known. */
  placeOf(column: number, row: number): readonly [number, number] | null
  /** No still shows the plank at any of them. */
  readonly areClear?: boolean
}

/** What each of many places shows without plank, dog and people, row by row. */
export type LearntPlaces = Omit<Surroundings, 'lattice'>

/**
 * Learns what some places show when nobody and no plank hides them, as `learnSurroundings`.
 *
 * @param camera calibrated on the reference frame
 * @param stills 3 to about 40, spread over the stretch
 * @param places where to look
 * @returns one value a place
 */
export function learnPlaces(
  camera: SeesawCamera,
  stills: readonly Still[],
  { columns, rows, placeOf, areClear = false }: Places,
): LearntPlaces {
  const count = columns * rows
  const unknown = () => new Float32Array(count).fill(NaN)
  const out = { y: unknown(), u: unknown(), v: unknown(), precisionY: unknown(), precisionUv: unknown() }
  const views = stills.map((still) => ({ still, isPlank: plankTest(camera, still.angleRad) }))
  // While the board rests no dog is on its exit half, and one is on the other half only in passing.
  const isAtRest = ({ still: { angleRad } }: (typeof views)[number]) =>
    angleRad !== null && Math.abs(angleRad - camera.restAngleRad) < AT_REST_RAD
  const [atRest, others] = [evenlySpread(views.filter(isAtRest), MOST_AT_REST), views.filter((view) => !isAtRest(view))]
  const counts = [new LevelCounts(), new LevelCounts(), new LevelCounts()] as const
  const look = (from: typeof views, xPx: number, yPx: number): void => {
    for (const { still, isPlank } of from) {
      if (!areClear && isPlank(xPx, yPx)) continue
      const [x, y] = applyHomography(still.frameFromReference, xPx, yPx)
      if (!sampleColour(still.frame, x, y, got, 0)) continue
      counts[0].add(groupOf(got[0]! / still.gain))
      counts[1].add(groupOf(got[1]!))
      counts[2].add(groupOf(got[2]!))
    }
  }
  const got = new Float32Array(3)
  for (let row = 0, i = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++, i++) {
      const place = placeOf(column, row)
      if (place === null) continue
      const [xPx, yPx] = place
      for (const one of counts) one.clear()
      look(atRest, xPx, yPx)
      if (counts[0].count < ENOUGH_AT_REST) look(others, xPx, yPx)
      const seen = counts[0].count
      if (seen === 0) continue
      out.y[i] = counts[0].quantile(0.5)
      out.u[i] = counts[1].quantile(0.5)
      out.v[i] = counts[2].quantile(0.5)
      const between =
        seen < FEWEST_FOR_SPREAD ? 0 : (counts[0].quantile(0.75) - counts[0].quantile(0.25)) / QUARTILES_SD
      const spread = Math.max(FEW_SPREAD[seen] ?? 0, between) ** 2
      out.precisionY[i] = 1 / (LUMA_VARIANCE.noise + LUMA_VARIANCE.perSpread * spread)
      out.precisionUv[i] = 1 / (CHROMA_VARIANCE.noise + CHROMA_VARIANCE.perSpread * spread)
    }
  }
  addTexture(out, columns, rows)
  return out
}

/** Where the picture is steep, a part of a decoded pixel that it is off changes it by this share of what is next to it. */
const OFF_SHARE = 0.25

/** Beside borders in the picture the surroundings are known less exactly. */
function addTexture({ y, u, v, precisionY, precisionUv }: LearntPlaces, columns: number, rows: number): void {
  for (let row = 1; row < rows - 1; row++) {
    for (let i = row * columns + 1; i < (row + 1) * columns - 1; i++) {
      if (Number.isNaN(y[i]!)) continue
      const offUv = OFF_SHARE * Math.max(steepest(u, i, columns), steepest(v, i, columns))
      precisionY[i] = 1 / (1 / precisionY[i]! + (OFF_SHARE * steepest(y, i, columns)) ** 2)
      precisionUv[i] = 1 / (1 / precisionUv[i]! + offUv ** 2)
    }
  }
}

/** The largest difference from one of four neighbours that are known. */
function steepest(plane: Float32Array, i: number, columns: number): number {
  const here = plane[i]!
  const across = Math.max(apart(plane[i - 1]!, here), apart(plane[i + 1]!, here))
  return Math.max(across, apart(plane[i - columns]!, here), apart(plane[i + columns]!, here))
}

function apart(there: number, here: number): number {
  return Number.isNaN(there) ? 0 : Math.abs(there - here)
}

/** Whether a point of the reference frame is in the band at some board angle. */
function sweepTest(camera: SeesawCamera, band: Band): (xPx: number, yPx: number) => boolean {
  const { restAngleRad, groundedAngleRad } = camera
  // The band is higher than the plank's ends move in half a swing, so three angles leave no gap.
  const maps = [restAngleRad, (restAngleRad + groundedAngleRad) / 2, groundedAngleRad].map((angleRad) =>
    invertHomography(camera.homographyAt(angleRad, 0)),
  )
  return (xPx, yPx) =>
    maps.some((plankFromImage) => {
      const [, aboveM] = applyHomography(plankFromImage, xPx, yPx)
      return aboveM > band.from - AROUND_M && aboveM < band.to + AROUND_M
    })
}

/** Neighbours of the band's points are learnt too, m. */
const AROUND_M = 0.05

/** Whether the plank, or its sweep where its angle is not known, covers a point of the reference frame. */
function plankTest(camera: SeesawCamera, angleRad: number | null): (xPx: number, yPx: number) => boolean {
  const { restAngleRad, groundedAngleRad } = camera
  const angles =
    angleRad !== null
      ? [angleRad]
      : SWING_SHARES.map((share) => restAngleRad + share * (groundedAngleRad - restAngleRad))
  const tests = angles.map((angle) => {
    const plankFromImage = invertHomography(camera.homographyAt(angle, 0))
    const { farTopM, bottomM } = plankOutline(camera, angle)
    const topM = Math.max(0, ...farTopM) + MARGIN_M
    const lowM = Math.min(...bottomM) - MARGIN_M
    return (xPx: number, yPx: number) => {
      const [alongM, aboveM] = applyHomography(plankFromImage, xPx, yPx)
      return aboveM < topM && aboveM > lowM && alongM > -2 * MARGIN_M && alongM < camera.lengthM + 2 * MARGIN_M
    }
  })
  return (xPx, yPx) => tests.some((test) => test(xPx, yPx))
}
