import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { Frame } from '../clip/frame.ts'
import { sampleColour } from '../clip/sampling.ts'
import { mapImage } from '../camera/camera-motion.ts'
import { plankOutline } from '../board/plank-outline.ts'

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

/**
 * The scene without plank, dog and passers-by, in reference-frame coordinates: the median over stills in which the
 * plank is elsewhere.
 */
export class Background {
  readonly region: Region
  readonly scale: number
  readonly widthPx: number
  readonly heightPx: number
  /** Y, U, V per pixel, row by row; NaN where never seen. */
  readonly colours: Float32Array
  /** Spread of Y between stills and by imperfect registration, 1 sd, grey levels. */
  readonly spread: Float32Array

  constructor(region: Region, scale: number) {
    this.region = region
    this.scale = scale
    this.widthPx = Math.ceil((region.x1Px - region.x0Px) * scale)
    this.heightPx = Math.ceil((region.y1Px - region.y0Px) * scale)
    this.colours = new Float32Array(3 * this.widthPx * this.heightPx).fill(NaN)
    this.spread = new Float32Array(this.widthPx * this.heightPx).fill(NaN)
  }

  /**
   * Colour and spread at a point of the reference frame, bilinear.
   *
   * @param out four numbers Y, U, V, spread from `at` on; NaN where unknown
   */
  sample(xPx: number, yPx: number, out: Float32Array, at: number): void {
    const column = (xPx - this.region.x0Px) * this.scale - 0.5
    const row = (yPx - this.region.y0Px) * this.scale - 0.5
    const c = Math.floor(column)
    const r = Math.floor(row)
    if (!(c >= 0 && r >= 0 && c < this.widthPx - 1 && r < this.heightPx - 1)) {
      out[at] = out[at + 1] = out[at + 2] = out[at + 3] = NaN
      return
    }
    const fx = column - c
    const fy = row - r
    const i = r * this.widthPx + c
    const w = this.widthPx
    const a = (1 - fx) * (1 - fy)
    const b = fx * (1 - fy)
    const d = (1 - fx) * fy
    const e = fx * fy
    const p = this.colours
    for (let k = 0; k < 3; k++) {
      out[at + k] = a * p[3 * i + k]! + b * p[3 * i + 3 + k]! + d * p[3 * (i + w) + k]! + e * p[3 * (i + w) + 3 + k]!
    }
    out[at + 3] = this.spread[fy < 0.5 ? (fx < 0.5 ? i : i + 1) : fx < 0.5 ? i + w : i + w + 1]!
  }
}

/** A median over few stills may be of something that stood there: least spread by number of stills, grey levels. */
const FEW_SPREAD = [0, 18, 16, 13, 9, 6]

/**
 * Builds the background of a region from stills.
 *
 * @param camera calibrated on the reference frame; @param stills 3 to about 25, spread over the stretch
 * @param marginM how far around the plank pixels are left out, m
 * @param scale decoded px per full-resolution px
 * @returns the background; places never seen free carry their neighbour's colour and a wide spread
 */
export function buildBackground(
  camera: SeesawCamera,
  stills: readonly Still[],
  region: Region,
  scale: number,
  marginM: number,
): Background {
  const background = new Background(region, scale)
  const { widthPx: w, heightPx: h } = background
  const covers = stills.map((s) => coveredRows(camera, s.angleRad, region, scale, w, marginM))
  const values = [0, 1, 2].map(() => new Float32Array(stills.length))
  const colour = new Float32Array(3)
  const identity = stills.map((s) => isIdentity(s.frameFromReference))
  for (let row = 0; row < h; row++) {
    const yPx = region.y0Px + (row + 0.5) / scale
    for (let column = 0; column < w; column++) {
      const xPx = region.x0Px + (column + 0.5) / scale
      let n = 0
      for (let k = 0; k < stills.length; k++) {
        const cover = covers[k]!
        if (row >= cover.from[column]! && row <= cover.to[column]!) continue
        const still = stills[k]!
        let inside: boolean
        if (identity[k]) inside = sampleColour(still.frame, xPx, yPx, colour, 0)
        else {
          const p = mapImage(still.frameFromReference, { xPx, yPx })
          inside = sampleColour(still.frame, p.xPx, p.yPx, colour, 0)
        }
        if (!inside) continue
        values[0]![n] = colour[0]! / still.gain
        values[1]![n] = colour[1]!
        values[2]![n] = colour[2]!
        n++
      }
      if (n === 0) continue
      const i = row * w + column
      background.spread[i] = Math.max(FEW_SPREAD[n] ?? 0, n < 3 ? 0 : quartileSpread(values[0]!, n))
      for (let k = 0; k < 3; k++) background.colours[3 * i + k] = medianInPlace(values[k]!, n)
    }
  }
  fillUnseen(background)
  addTexture(background)
  return background
}

/** Registration is good to a third of a pixel: where the picture is steep, that much is added to the spread. */
function addTexture({ widthPx: w, heightPx: h, colours, spread }: Background): void {
  for (let row = 1; row < h - 1; row++) {
    for (let column = 1; column < w - 1; column++) {
      const i = row * w + column
      const across = colours[3 * i + 3]! - colours[3 * i - 3]!
      const down = colours[3 * (i + w)]! - colours[3 * (i - w)]!
      const texture = (Math.abs(across) + Math.abs(down)) / 6
      if (!Number.isNaN(texture)) spread[i] = Math.hypot(spread[i]!, texture)
    }
  }
}

/** Gives pixels that were never seen free (behind a plank that does not move) the colour next above or below them. */
function fillUnseen({ widthPx: w, heightPx: h, colours, spread }: Background): void {
  for (let column = 0; column < w; column++) {
    let row = 0
    while (row < h) {
      if (!Number.isNaN(spread[row * w + column]!)) {
        row++
        continue
      }
      const start = row
      while (row < h && Number.isNaN(spread[row * w + column]!)) row++
      for (let r = start; r < row; r++) {
        const source = row >= h || (start > 0 && r - start < row - r) ? start - 1 : row
        if (source < 0 || source >= h) continue
        const from = source * w + column
        const to = r * w + column
        for (let k = 0; k < 3; k++) colours[3 * to + k] = colours[3 * from + k]!
        // A guess, not a sight: it may be off by a texture's worth.
        spread[to] = Math.max(12, spread[from]!)
      }
    }
  }
}

/** For each column of the raster, the first and last row that the plank covers; from > to where none. */
function coveredRows(
  camera: SeesawCamera,
  angleRad: number | null,
  region: Region,
  scale: number,
  widthPx: number,
  marginM: number,
): { from: Int32Array; to: Int32Array } {
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

/**
 * True when a map moves no point of the picture by more than a twentieth of a pixel.
 *
 * @param homography 3 x 3 map between two frames' image px, row by row
 */
export function isIdentity(homography: Float64Array): boolean {
  return [
    [0, 0],
    [2000, 0],
    [0, 2000],
  ].every(([x, y]) => {
    const p = mapImage(homography, { xPx: x!, yPx: y! })
    return Math.hypot(p.xPx - x!, p.yPx - y!) < 0.05
  })
}

function medianInPlace(values: Float32Array, count: number): number {
  insertionSort(values, count)
  const half = count >> 1
  return count % 2 === 1 ? values[half]! : (values[half - 1]! + values[half]!) / 2
}

function quartileSpread(values: Float32Array, count: number): number {
  insertionSort(values, count)
  return (values[Math.floor(0.75 * (count - 1))]! - values[Math.ceil(0.25 * (count - 1))]!) / 1.349
}

function insertionSort(values: Float32Array, count: number): void {
  for (let i = 1; i < count; i++) {
    const v = values[i]!
    let j = i - 1
    while (j >= 0 && values[j]! > v) {
      values[j + 1] = values[j]!
      j--
    }
    values[j + 1] = v
  }
}
