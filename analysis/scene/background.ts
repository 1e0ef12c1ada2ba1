import { plankOutline } from './plank-outline.ts'
import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import { multiply3 } from '../camera/rotation.ts'
import type { Frame } from '../clip/frame.ts'
import { betweenFour, planeFromImage } from '../clip/sampling.ts'
import { groupOf, LevelCounts } from '../numeric/level-counts.ts'

/** A picture taken out of the clip, with where the camera and the board were. */
export interface Still {
  readonly frame: Frame
  readonly frameFromReference: Float64Array
  /** Board angle, rad; null when unknown, then nothing in the plank's sweep is used. */
  readonly angleRad: number | null
  /** Brightness of the still over that of the reference. */
  readonly gain: number
}

/** A rectangle of the reference frame, image px. */
export interface Region {
  readonly x0Px: number
  readonly y0Px: number
  readonly x1Px: number
  readonly y1Px: number
}

/** The rows from first to last of each column of a raster; from > to where there are none. */
interface ColumnRows {
  readonly from: Int32Array
  readonly to: Int32Array
}

/**
 * The scene without plank, dog and passers-by, in reference-frame coordinates: the median over stills in which the
 * plank is elsewhere. Chroma has half the size of luma in both directions, as in a frame.
 */
export class Background {
  readonly region: Region
  readonly scale: number
  /** Size of the luma raster, even. */
  readonly widthPx: number
  readonly heightPx: number
  /** Row by row; NaN where never seen. */
  readonly y: Float32Array
  readonly u: Float32Array
  readonly v: Float32Array
  /** Spread of Y between stills and by imperfect registration, 1 sd, grey levels. */
  readonly spread: Float32Array

  constructor(region: Region, scale: number) {
    this.region = region
    this.scale = scale
    this.widthPx = 2 * Math.ceil(((region.x1Px - region.x0Px) * scale) / 2)
    this.heightPx = 2 * Math.ceil(((region.y1Px - region.y0Px) * scale) / 2)
    const count = this.widthPx * this.heightPx
    this.y = new Float32Array(count).fill(NaN)
    this.spread = new Float32Array(count).fill(NaN)
    this.u = new Float32Array(count / 4).fill(NaN)
    this.v = new Float32Array(count / 4).fill(NaN)
  }

  /**
   * Colour and spread at a point of the reference frame, bilinear.
   *
   * @param out four numbers Y, U, V, spread from `at` on; NaN where unknown
   */
  sample(xPx: number, yPx: number, out: Float32Array, at: number): void {
    const column = (xPx - this.region.x0Px) * this.scale - 0.5
    const row = (yPx - this.region.y0Px) * this.scale - 0.5
    const w = this.widthPx
    if (!(column >= 0.5 && row >= 0.5 && column < w - 1.5 && row < this.heightPx - 1.5)) {
      out[at] = out[at + 1] = out[at + 2] = out[at + 3] = NaN
      return
    }
    const c = Math.floor(column)
    const r = Math.floor(row)
    const fx = column - c
    const fy = row - r
    const i = r * w + c
    out[at] = amongFour(this.y, w, i, fx, fy)
    const halfColumn = column / 2 - 0.25
    const halfRow = row / 2 - 0.25
    const c2 = Math.floor(halfColumn)
    const r2 = Math.floor(halfRow)
    const i2 = r2 * (w >> 1) + c2
    out[at + 1] = amongFour(this.u, w >> 1, i2, halfColumn - c2, halfRow - r2)
    out[at + 2] = amongFour(this.v, w >> 1, i2, halfColumn - c2, halfRow - r2)
    // Chroma may end half a pixel earlier.
    if (Number.isNaN(out[at + 1]!)) out[at] = NaN
    out[at + 3] = this.spread[i + (fx < 0.5 ? 0 : 1) + (fy < 0.5 ? 0 : w)]!
  }
}

/** The value between four neighbours, as `betweenFour` of samples with fractions. */
function amongFour(plane: Float32Array, widthPx: number, at: number, fx: number, fy: number): number {
  const top = plane[at]! + fx * (plane[at + 1]! - plane[at]!)
  const bottom = plane[at + widthPx]! + fx * (plane[at + widthPx + 1]! - plane[at + widthPx]!)
  return top + fy * (bottom - top)
}

const UNSEEN = -1
/** Distance of the quartiles of a normal distribution, sd. */
const QUARTILES_SD = 1.349
/** A median over few stills may be of something that stood there: least spread by number of stills, grey levels. */
const FEW_SPREAD = [0, 18, 16, 13, 9, 6]

/** How far below and above the plank, at any angle, a background is wanted, m; below is negative. */
export interface Band {
  readonly fromAboveM: number
  readonly toAboveM: number
}

/**
 * Builds the background of a region from stills.
 *
 * @param camera calibrated on the reference frame
 * @param stills 3 to about 40, spread over the stretch
 * @param region the rectangle of the reference frame to build, image px
 * @param scale decoded px per full-resolution px
 * @param band which part of the region is wanted, m above the plank; what the plank cannot bring there stays unknown
 * @param marginM how far around the plank pixels are left out, m
 * @returns the background; places never seen free carry their neighbour's colour and a wide spread
 */
export function buildBackground(
  camera: SeesawCamera,
  stills: readonly Still[],
  region: Region,
  scale: number,
  band: Band,
  marginM: number,
): Background {
  const background = new Background(region, scale)
  const { widthPx: w, heightPx: h, y, u, v, spread } = background
  const wanted = sweptRows(camera, region, scale, w, h, band)
  const covered = stills.map((s) => coveredRows(camera, s.angleRad, region, scale, w, marginM))
  const luma = stills.map((s) => onRaster(s.frame.y, 1, 1 / s.gain, s, region, scale))
  medianOver(luma, covered, wanted, y, w, spread)
  fillUnseen(y, w, wanted, spread)
  const coveredHalf = covered.map(halved)
  const wantedHalf = halved(wanted)
  for (const [name, into] of [
    ['u', u],
    ['v', v],
  ] as const) {
    const chroma = stills.map((s) => onRaster(s.frame[name], 2, 1, s, region, scale))
    medianOver(chroma, coveredHalf, wantedHalf, into, w / 2, null)
    fillUnseen(into, w / 2, wantedHalf, null)
  }
  addTexture(background)
  return background
}

/** One plane of a still as it lies on a raster of the reference frame. */
interface PlaneOnRaster {
  readonly plane: Uint8Array
  readonly widthPx: number
  readonly heightPx: number
  /** Samples are multiplied by this. */
  readonly factor: number
  /** From the raster's column and row (indices) to the plane's, 3 x 3, row by row. */
  readonly planeFromRaster: Float64Array
}

/** @param sizePx of the plane's pixels and of the raster's, decoded luma px: 2 for chroma */
function onRaster(
  plane: Uint8Array,
  sizePx: 1 | 2,
  factor: number,
  { frame, frameFromReference }: Still,
  { x0Px, y0Px }: Region,
  scale: number,
): PlaneOnRaster {
  const { view } = frame
  const wide = sizePx / scale
  const referenceFromRaster = Float64Array.of(wide, 0, x0Px + 0.5 * wide, 0, wide, y0Px + 0.5 * wide, 0, 0, 1)
  const planeFromReference = multiply3(planeFromImage(view, sizePx), frameFromReference)
  return {
    plane,
    widthPx: view.widthPx / sizePx,
    heightPx: view.heightPx / sizePx,
    factor,
    planeFromRaster: multiply3(planeFromReference, referenceFromRaster),
  }
}

/**
 * The median over stills of each wanted pixel of a raster, and how far the stills spread about it.
 *
 * @param covered for each still, the rows that the plank hides
 */
function medianOver(
  stills: readonly PlaneOnRaster[],
  covered: readonly ColumnRows[],
  wanted: ColumnRows,
  into: Float32Array,
  widthPx: number,
  spread: Float32Array | null,
): void {
  const groups = new Int16Array(widthPx * stills.length)
  const counts = new LevelCounts()
  const lastRow = wanted.to.reduce((a, b) => Math.max(a, b), -1)
  for (let row = wanted.from.reduce((a, b) => Math.min(a, b), lastRow + 1); row <= lastRow; row++) {
    stills.forEach((still, k) => sampleRow(still, row, covered[k]!, wanted, groups, k, stills.length))
    for (let column = 0; column < widthPx; column++) {
      counts.clear()
      for (let k = column * stills.length; k < (column + 1) * stills.length; k++) {
        if (groups[k]! !== UNSEEN) counts.add(groups[k]!)
      }
      const { count } = counts
      if (count === 0) continue
      const i = row * widthPx + column
      into[i] = counts.quantile(0.5)
      if (spread === null) continue
      const upper = (Math.floor(0.75 * (count - 1)) + 0.5) / count
      const lower = (Math.ceil(0.25 * (count - 1)) + 0.5) / count
      const between = count < 3 ? 0 : (counts.quantile(upper) - counts.quantile(lower)) / QUARTILES_SD
      spread[i] = Math.max(FEW_SPREAD[count] ?? 0, between)
    }
  }
}

/**
 * One row of the raster as a still shows it, as groups of `LevelCounts`; `UNSEEN` where it is not wanted, hidden by the
 * plank or outside the still.
 *
 * @param at index of the first column in `out`; @param step from one column to the next
 */
function sampleRow(
  still: PlaneOnRaster,
  row: number,
  covered: ColumnRows,
  wanted: ColumnRows,
  out: Int16Array,
  at: number,
  step: number,
): void {
  const { plane, widthPx: w, heightPx: h, factor, planeFromRaster: m } = still
  const x0 = m[1]! * row + m[2]!
  const y0 = m[4]! * row + m[5]!
  const z0 = m[7]! * row + m[8]!
  for (let column = 0, i = at; i < out.length; column++, i += step) {
    out[i] = UNSEEN
    if (row < wanted.from[column]! || row > wanted.to[column]!) continue
    if (row >= covered.from[column]! && row <= covered.to[column]!) continue
    const z = 1 / (m[6]! * column + z0)
    const x = (m[0]! * column + x0) * z
    const y = (m[3]! * column + y0) * z
    if (!(x >= 0 && y >= 0 && x < w - 1 && y < h - 1)) continue
    const c = Math.floor(x)
    const r = Math.floor(y)
    out[i] = groupOf(factor * betweenFour(plane, w, r * w + c, x - c, y - r))
  }
}

/** Registration is good to a third of a pixel: where the picture is steep, that much is added to the spread. */
function addTexture({ widthPx: w, heightPx: h, y, spread }: Background): void {
  for (let row = 1; row < h - 1; row++) {
    for (let i = row * w + 1; i < row * w + w - 1; i++) {
      const texture = (Math.abs(y[i + 1]! - y[i - 1]!) + Math.abs(y[i + w]! - y[i - w]!)) / 6
      if (!Number.isNaN(texture)) spread[i] = Math.sqrt(spread[i]! ** 2 + texture ** 2)
    }
  }
}

/** Gives pixels that were never seen free (behind a plank that does not move) the value next above or below them. */
function fillUnseen(plane: Float32Array, w: number, wanted: ColumnRows, spread: Float32Array | null): void {
  for (let column = 0; column < w; column++) {
    const first = wanted.from[column]!
    const end = wanted.to[column]! + 1
    let row = first
    while (row < end) {
      if (!Number.isNaN(plane[row * w + column]!)) {
        row++
        continue
      }
      const start = row
      while (row < end && Number.isNaN(plane[row * w + column]!)) row++
      for (let r = start; r < row; r++) {
        const source = row >= end || (start > first && r - start < row - r) ? start - 1 : row
        if (source < first || source >= end) continue
        const from = source * w + column
        const to = r * w + column
        plane[to] = plane[from]!
        // A guess, not a sight: it may be off by a texture's worth.
        if (spread !== null) spread[to] = Math.max(12, spread[from]!)
      }
    }
  }
}

/** The rows of the half-size raster that hold any of the rows of the full one. */
function halved({ from, to }: ColumnRows): ColumnRows {
  const half = (rows: Int32Array, pick: (a: number, b: number) => number) =>
    Int32Array.from({ length: rows.length >> 1 }, (_, c) => pick(rows[2 * c]!, rows[2 * c + 1]!) >> 1)
  return { from: half(from, Math.min), to: half(to, Math.max) }
}

/** For each column of the raster, the rows between the band's borders at any angle. */
function sweptRows(
  camera: SeesawCamera,
  region: Region,
  scale: number,
  widthPx: number,
  heightPx: number,
  { fromAboveM, toAboveM }: Band,
): ColumnRows {
  const from = new Int32Array(widthPx).fill(heightPx)
  const to = new Int32Array(widthPx).fill(-1)
  for (const angleRad of [camera.restAngleRad - 0.03, camera.groundedAngleRad + 0.03]) {
    const upper = lineOnRaster(camera, angleRad, toAboveM, region, scale)
    const lower = lineOnRaster(camera, angleRad, fromAboveM, region, scale)
    for (let column = 0; column < widthPx; column++) {
      from[column] = Math.max(0, Math.min(from[column]!, Math.floor(upper(column))))
      to[column] = Math.min(heightPx - 1, Math.max(to[column]!, Math.ceil(lower(column))))
    }
  }
  return { from, to }
}

/** Row by column of the line at a height above the plank. */
function lineOnRaster(
  camera: SeesawCamera,
  angleRad: number,
  aboveM: number,
  { x0Px, y0Px }: Region,
  scale: number,
): (column: number) => number {
  const entry = camera.imageFromPlank({ alongM: 0, aboveM, acrossM: 0 }, angleRad)
  const exit = camera.imageFromPlank({ alongM: camera.lengthM, aboveM, acrossM: 0 }, angleRad)
  const steepness = (exit.yPx - entry.yPx) / (exit.xPx - entry.xPx)
  return (column) => (entry.yPx - y0Px) * scale - 0.5 + steepness * (column + 0.5 - (entry.xPx - x0Px) * scale)
}

/** For each column of the raster, the rows that the plank covers. */
function coveredRows(
  camera: SeesawCamera,
  angleRad: number | null,
  region: Region,
  scale: number,
  widthPx: number,
  marginM: number,
): ColumnRows {
  const from = new Int32Array(widthPx).fill(1 << 30)
  const to = new Int32Array(widthPx).fill(-1)
  const angles =
    angleRad !== null
      ? [angleRad]
      : [0, 0.25, 0.5, 0.75, 1].map((s) => camera.restAngleRad + s * (camera.groundedAngleRad - camera.restAngleRad))
  for (const angle of angles) {
    const outline = plankOutline(camera, angle)
    const at = (alongM: number, aboveM: number) => {
      const p = camera.imageFromPlank({ alongM, aboveM, acrossM: 0 }, angle)
      return { column: (p.xPx - region.x0Px) * scale - 0.5, row: (p.yPx - region.y0Px) * scale - 0.5 }
    }
    const L = camera.lengthM
    const top = (end: 0 | 1) => Math.max(0, outline.farTopM[end]) + marginM
    const bottom = (end: 0 | 1) => outline.bottomM[end] - marginM
    const extra = marginM + 0.05
    const upper = [at(-extra, top(0)), at(L + extra, top(1))] as const
    const lower = [at(-extra, bottom(0)), at(L + extra, bottom(1))] as const
    const left = Math.floor(Math.min(upper[0].column, upper[1].column, lower[0].column, lower[1].column))
    const right = Math.ceil(Math.max(upper[0].column, upper[1].column, lower[0].column, lower[1].column))
    const rowOn = (line: readonly [{ column: number; row: number }, { column: number; row: number }], column: number) =>
      line[0].row + ((column - line[0].column) / (line[1].column - line[0].column)) * (line[1].row - line[0].row)
    for (let c = Math.max(0, left); c <= Math.min(widthPx - 1, right); c++) {
      from[c] = Math.min(from[c]!, Math.floor(rowOn(upper, c)))
      to[c] = Math.max(to[c]!, Math.ceil(rowOn(lower, c)))
    }
  }
  return { from, to }
}
