import type { PlankOutline } from '../scene/plank-outline.ts'
import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { CameraMotion } from '../camera/camera-motion.ts'
import { multiply3 } from '../camera/rotation.ts'
import type { Frame } from '../clip/frame.ts'
import { betweenFour, planeFromImage } from '../clip/sampling.ts'
import { isShade, UNKNOWN_CELL, type Strip } from '../dog/strip.ts'
import type { StripGrid } from '../dog/strip-grid.ts'
import { invertHomography } from '../geometry/homography.ts'
import { colourCode } from './colour-code.ts'
import type { Surroundings } from './surroundings.ts'

/** Deviations are kept in tenths of an sd, up to this: the byte above says that nothing is known. */
const TENTHS = 10
const MOST_DEVIATION = 254

/** What differs from the empty scene about a part of the plank, in one frame: a window of the lattice. */
export interface Look {
  readonly ptsS: number
  readonly fromColumn: number
  readonly fromRow: number
  readonly columns: number
  readonly rows: number
  /** As in `Strip`: tenths of sd from what is expected, 0-254, from the uppermost row on; 255 unknown or outside the band. */
  readonly deviation: Uint8Array
  /** What colour was seen, as `colourCode`. */
  readonly colours: Uint16Array
  /** From image px of the reference frame to the plane through the near edge, m along and above. */
  readonly plankFromImage: Float64Array
  /** How high the plank's ends are over the ground: entry end, exit end, m. */
  readonly endsHeightM: readonly [number, number]
  readonly lengthM: number
}

/** All that is known of the seesaw in one frame. */
export interface SeesawSight {
  readonly motion: CameraMotion
  readonly angleRad: number
  /** How far the plank lies above where the camera's motion puts it, m. */
  readonly shiftM: number
  readonly outline: PlankOutline
  readonly strip: Strip
  readonly grid: StripGrid
}

/** The band that is looked at, m above the near edge: dogs are above it, people reach below it as well. */
export const BAND_M = { from: -0.28, to: 1.15 }
/** Below this height over the plank a darkening that keeps the colour is probably the dog's shadow: it counts only so much. */
const SHADE_HEIGHT_M = 0.2
const SHADE_SHARE = 0.3
/** So close to the plank the strip knows better, m. */
const EDGE_M = 0.02

/**
 * Looks at a part of the plank and what is above it.
 *
 * @param frame the decoded picture
 * @param camera the calibrated seesaw camera
 * @param surroundings what the lattice shows without a dog
 * @param sight the seesaw in this frame
 * @param part from where to where, m along
 * @returns the window of the lattice that holds the part; null where none of it is on the lattice
 */
export function lookAbout(
  frame: Frame,
  camera: SeesawCamera,
  surroundings: Surroundings,
  sight: SeesawSight,
  part: { readonly fromM: number; readonly toM: number },
): Look | null {
  const { lattice } = surroundings
  const { motion, angleRad, shiftM, outline, strip, grid } = sight
  const window = windowOf(camera, angleRad, lattice, part)
  if (window === null) return null
  const { fromColumn, fromRow, columns, rows } = window
  const deviation = new Uint8Array(columns * rows).fill(UNKNOWN_CELL)
  const colours = new Uint16Array(columns * rows)
  const m = multiply3(planeFromImage(frame.view, 1), motion.frameFromReference)
  const p = invertHomography(camera.homographyAt(angleRad, 0))
  const { widthPx: w, heightPx: h } = frame.view
  const half = w >> 1
  const brightness = 1 / motion.gain
  const { y: wantY, u: wantU, v: wantV, precisionY, precisionUv } = surroundings
  const [topM, topSlope] = lineOf(outline.farTopM, camera.lengthM)
  const [bottomM, bottomSlope] = lineOf(outline.bottomM, camera.lengthM)
  for (let row = 0; row < rows; row++) {
    const yPx = lattice.y0Px + (fromRow + row) * lattice.stepPx
    const inBand = columnsWithin(p, yPx, lattice, window, part)
    let i = row * columns + inBand.from
    for (let column = inBand.from; column < inBand.to; column++, i++) {
      const xPx = lattice.x0Px + (fromColumn + column) * lattice.stepPx
      const onPlank = 1 / (p[6]! * xPx + p[7]! * yPx + p[8]!)
      const aboveM = (p[3]! * xPx + p[4]! * yPx + p[5]!) * onPlank
      const alongM = (p[0]! * xPx + p[1]! * yPx + p[2]!) * onPlank
      const z = 1 / (m[6]! * xPx + m[7]! * yPx + m[8]!)
      const x = (m[0]! * xPx + m[1]! * yPx + m[2]!) * z
      const y = (m[3]! * xPx + m[4]! * yPx + m[5]!) * z
      if (!(x >= 0 && y >= 0 && x < w - 1 && y < h - 1)) continue
      const c = Math.floor(x)
      const r = Math.floor(y)
      const seenY = betweenFour(frame.y, w, r * w + c, x - c, y - r) * brightness
      const chroma = ((y + 0.5) >> 1) * half + ((x + 0.5) >> 1)
      const seenU = frame.u[chroma]!
      const seenV = frame.v[chroma]!
      colours[i] = colourCode(seenY, seenU, seenV)
      const isBesideEnds = alongM < -EDGE_M || alongM > camera.lengthM + EDGE_M
      const at = (fromRow + row) * lattice.columns + fromColumn + column
      const expectedY = wantY[at]!
      const heightM = aboveM - shiftM
      const isOnPlank =
        !isBesideEnds &&
        heightM < Math.max(0, topM + topSlope * alongM) + EDGE_M &&
        heightM > bottomM + bottomSlope * alongM - EDGE_M
      if (isOnPlank || Number.isNaN(expectedY)) {
        deviation[i] = ofStrip(strip, grid, alongM, heightM)
        continue
      }
      const dy = seenY - expectedY
      const du = seenU - wantU[at]!
      const dv = seenV - wantV[at]!
      const d = Math.sqrt(dy * dy * precisionY[at]! + (du * du + dv * dv) * precisionUv[at]!)
      const isDark = aboveM < SHADE_HEIGHT_M && isShade(seenY, expectedY, wantU[at]!, wantV[at]!, du, dv)
      deviation[i] = Math.min(MOST_DEVIATION, Math.floor(TENTHS * (isDark ? SHADE_SHARE : 1) * d + 0.5))
    }
  }
  const riseM = (camera.lengthM / 2) * Math.sin(angleRad)
  const endsHeightM = [camera.axisHeightM + riseM, camera.axisHeightM - riseM] as const
  const { lengthM } = camera
  return { ptsS: frame.ptsS, ...window, deviation, colours, plankFromImage: p, endsHeightM, lengthM }
}

/** A height that changes evenly along the plank: at the entry end, m, and per m. */
function lineOf([entryM, exitM]: readonly [number, number], lengthM: number): readonly [number, number] {
  return [entryM, (exitM - entryM) / lengthM]
}

/** Which columns of a row of the window lie within the part and the band: from, and up to but without. */
function columnsWithin(
  p: Float64Array,
  yPx: number,
  lattice: Surroundings['lattice'],
  { fromColumn, columns }: { readonly fromColumn: number; readonly columns: number },
  { fromM, toM }: { readonly fromM: number; readonly toM: number },
): { readonly from: number; readonly to: number } {
  // Along and above go one way along a row, so each limit is passed at one place.
  const w = p[7]! * yPx + p[8]!
  const along = p[1]! * yPx + p[2]!
  const above = p[4]! * yPx + p[5]!
  const limits = [
    [(fromM * w - along) / (p[0]! - fromM * p[6]!), (toM * w - along) / (p[0]! - toM * p[6]!)],
    [(BAND_M.from * w - above) / (p[3]! - BAND_M.from * p[6]!), (BAND_M.to * w - above) / (p[3]! - BAND_M.to * p[6]!)],
  ] as const
  let [from, to] = [0, columns]
  for (const [aPx, bPx] of limits) {
    from = Math.max(from, Math.ceil((Math.min(aPx, bPx) - lattice.x0Px) / lattice.stepPx - fromColumn))
    to = Math.min(to, Math.floor((Math.max(aPx, bPx) - lattice.x0Px) / lattice.stepPx - fromColumn) + 1)
  }
  return { from, to }
}

/** The columns and rows of the lattice that a part of the band may fall on. */
function windowOf(
  camera: SeesawCamera,
  angleRad: number,
  lattice: Surroundings['lattice'],
  { fromM, toM }: { readonly fromM: number; readonly toM: number },
): Pick<Look, 'fromColumn' | 'fromRow' | 'columns' | 'rows'> | null {
  const corners = [fromM, toM].flatMap((alongM) =>
    [BAND_M.from, BAND_M.to].map((aboveM) => camera.imageFromPlank({ alongM, aboveM, acrossM: 0 }, angleRad)),
  )
  const columnsAt = corners.map(({ xPx }) => (xPx - lattice.x0Px) / lattice.stepPx)
  const rowsAt = corners.map(({ yPx }) => (yPx - lattice.y0Px) / lattice.stepPx)
  const fromColumn = Math.max(0, Math.floor(Math.min(...columnsAt)))
  const fromRow = Math.max(0, Math.floor(Math.min(...rowsAt)))
  const columns = Math.min(lattice.columns - 1, Math.ceil(Math.max(...columnsAt))) - fromColumn + 1
  const rows = Math.min(lattice.rows - 1, Math.ceil(Math.max(...rowsAt))) - fromRow + 1
  return columns < 3 || rows < 3 ? null : { fromColumn, fromRow, columns, rows }
}

/** The mean of the strip's cells around a place. */
function ofStrip({ deviation }: Strip, grid: StripGrid, alongM: number, aboveM: number): number {
  const c = Math.round((alongM - grid.fromAlongM) / grid.cellM)
  const r = Math.round((aboveM - grid.fromAboveM) / grid.cellM)
  if (c < 1 || r < 1 || c > grid.columns - 2 || r > grid.rows - 2) return UNKNOWN_CELL
  let sum = 0
  let count = 0
  for (let row = r - 1; row <= r + 1; row++) {
    for (let i = row * grid.columns + c - 1; i <= row * grid.columns + c + 1; i++) {
      if (deviation[i] === UNKNOWN_CELL) continue
      sum += deviation[i]!
      count++
    }
  }
  return count === 0 ? UNKNOWN_CELL : Math.round(sum / count)
}
