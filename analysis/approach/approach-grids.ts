import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import { applyHomography, invertHomography } from '../geometry/homography.ts'
import { plankOutline } from '../scene/plank-outline.ts'
import { HEIGHTS_M } from '../silhouette/placed-look.ts'
import type { Places } from '../silhouette/surroundings.ts'

/** A lattice of places on a plane before the entry end; all lengths are those of the middles of its cells, m. */
export interface PlaneGrid {
  /** Level distance from the entry end of each column, negative before it. */
  readonly aheadM: Float64Array
  /** Of each row: height over the ground, or how far it lies from the plank's middle line, positive towards the camera. */
  readonly rowM: Float64Array
  /** Places of the reference frame, full-resolution image px. */
  readonly places: Places
}

/** The body is looked for in the upright plane through the plank's middle line, paws on the ground. */
export interface ApproachGrids {
  readonly upright: PlaneGrid
  readonly ground: PlaneGrid
}

/** Cells of the upright plane are as large as those of a dog's likeness, m; it reaches from here to here. */
export const UPRIGHT_CELL_M = 0.02
const UPRIGHT_M = { from: -2, to: 0.6 }
/** No dog reaches higher than so many rows of a likeness: 0.9 m. */
const UPRIGHT_ROWS = 46
/** The part of the ground that is looked at, and its cells: a paw is some 5 cm long, and seen from flat above. */
const GROUND_CELL_M = { ahead: 0.015, aside: 0.02 }
const GROUND_M = { from: -1.65, to: 0, aside: 0.84 }
/** What the resting plank hides tells nothing about what is behind it; it is kept out by this more, m. */
const PLANK_MARGIN_M = 0.03

/**
 * The grids for a camera.
 *
 * @param camera calibrated
 * @returns places on both planes; none where the resting plank is seen
 */
export function approachGrids(camera: SeesawCamera): ApproachGrids {
  const isPlank = restingPlankTest(camera)
  const middleM = camera.widthM / 2
  const entryXM = entryEndXM(camera)
  const grid = (
    aheadM: Float64Array,
    rowM: Float64Array,
    pointOf: (aheadM: number, rowM: number) => { readonly xM: number; readonly yM: number; readonly acrossM: number },
  ): PlaneGrid => ({
    aheadM,
    rowM,
    places: {
      columns: aheadM.length,
      rows: rowM.length,
      placeOf: (column, row) => {
        const { xPx, yPx } = camera.imageFromWorld(pointOf(aheadM[column]!, rowM[row]!))
        return isPlank(xPx, yPx) ? null : [xPx, yPx]
      },
    },
  })
  return {
    upright: grid(
      middlesOf(UPRIGHT_M.from, UPRIGHT_M.to, UPRIGHT_CELL_M),
      Float64Array.from(HEIGHTS_M.subarray(0, UPRIGHT_ROWS)),
      (aheadM, heightM) => ({ xM: entryXM + aheadM, yM: heightM, acrossM: middleM }),
    ),
    // From the nearest row on.
    ground: grid(
      middlesOf(GROUND_M.from, GROUND_M.to, GROUND_CELL_M.ahead),
      middlesOf(-GROUND_M.aside, GROUND_M.aside, GROUND_CELL_M.aside).map((asideM) => -asideM),
      (aheadM, asideM) => ({ xM: entryXM + aheadM, yM: 0, acrossM: middleM - asideM }),
    ),
  }
}

/**
 * Where the entry end's top edge rests.
 *
 * @param camera calibrated
 * @returns x in the world of `SeesawCamera`, m
 */
export function entryEndXM({ lengthM, restAngleRad, axisBelowTopM }: SeesawCamera): number {
  return (-lengthM / 2) * Math.cos(restAngleRad) + axisBelowTopM * Math.sin(restAngleRad)
}

function middlesOf(fromM: number, toM: number, cellM: number): Float64Array {
  return Float64Array.from({ length: Math.round((toM - fromM) / cellM) }, (_, i) => fromM + (i + 0.5) * cellM)
}

/** Whether the resting plank covers a point of the reference frame. */
function restingPlankTest(camera: SeesawCamera): (xPx: number, yPx: number) => boolean {
  const plankFromImage = invertHomography(camera.homographyAt(camera.restAngleRad, 0))
  const { farTopM, bottomM } = plankOutline(camera, camera.restAngleRad)
  const topM = Math.max(0, ...farTopM) + PLANK_MARGIN_M
  const lowM = Math.min(...bottomM) - PLANK_MARGIN_M
  return (xPx, yPx) => {
    const [alongM, aboveM] = applyHomography(plankFromImage, xPx, yPx)
    const isBeside = alongM < -PLANK_MARGIN_M || alongM > camera.lengthM + PLANK_MARGIN_M
    return !isBeside && aboveM < topM && aboveM > lowM
  }
}
