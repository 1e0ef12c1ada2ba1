import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import { mapImage } from '../camera/camera-motion.ts'
import type { Frame } from '../clip/frame.ts'
import { sampleColour } from '../clip/sampling.ts'
import { median } from '../numeric/robust.ts'

/** A picture of the clip and how the camera was turned since the reference picture. */
export interface TurnedPicture {
  readonly frame: Frame
  /** From image px of the reference picture to those of this one; see `CameraMotion`. */
  readonly frameFromReference: Float64Array
}

/**
 * What lies about a plank at one angle, straightened: columns along the near edge, rows across it in the near face's
 * plane. Colours are Y, U - 128 and V - 128, three numbers a sample, row by row from the lowest; NaN outside the picture.
 */
export interface PlankStrip {
  readonly columns: number
  readonly rows: number
  /** A sample is this wide and high, m: a px and half a px of the picture. */
  readonly columnM: number
  readonly rowM: number
  /** Place of the first column and the lowest row, m. */
  readonly fromAlongM: number
  readonly fromAboveM: number
  readonly seen: Float32Array
  /** The same place in pictures in which the plank lies elsewhere. */
  readonly behind: Float32Array
}

/** The strip reaches this far beyond both ends, below and above the near edge, m. */
const BEYOND_M = 0.2
const BELOW_M = 0.16
const ABOVE_M = 0.2
/** Chroma differs less than luma between things of different colour. */
const CHROMA_WEIGHT = 1.5

/**
 * Straightens a picture of the plank, and what was behind it.
 *
 * @param camera calibrated at least roughly
 * @param angleRad of the board in the picture
 * @param picture with the plank; `behind` are pictures with the plank elsewhere, at least one
 * @param behind see `picture`
 * @returns a strip that is centred on where the camera puts the near top edge
 */
export function plankStrip(
  camera: SeesawCamera,
  angleRad: number,
  picture: TurnedPicture,
  behind: readonly TurnedPicture[],
): PlankStrip {
  const left = camera.imageFromPlank({ alongM: 0, aboveM: 0, acrossM: 0 }, angleRad)
  const right = camera.imageFromPlank({ alongM: camera.lengthM, aboveM: 0, acrossM: 0 }, angleRad)
  const columnM = camera.lengthM / Math.hypot(right.xPx - left.xPx, right.yPx - left.yPx) / picture.frame.view.scale
  const rowM = columnM / 2
  const columns = Math.ceil((camera.lengthM + 2 * BEYOND_M) / columnM)
  const rows = Math.ceil((BELOW_M + ABOVE_M) / rowM)
  const strip = {
    columns,
    rows,
    columnM,
    rowM,
    fromAlongM: -BEYOND_M,
    fromAboveM: -BELOW_M,
    seen: new Float32Array(3 * columns * rows),
    behind: new Float32Array(3 * columns * rows),
  }
  const colour = new Float32Array(3)
  const others = behind.map(() => new Float32Array(3))
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const alongM = strip.fromAlongM + column * columnM
      const place = camera.imageFromPlank({ alongM, aboveM: strip.fromAboveM + row * rowM, acrossM: 0 }, angleRad)
      const at = 3 * (row * columns + column)
      colourOf(picture, place, colour)
      strip.seen.set(colour, at)
      behind.forEach((other, k) => colourOf(other, place, others[k]!))
      for (let c = 0; c < 3; c++) strip.behind[at + c] = middleOf(others, c)
    }
  }
  return strip
}

/**
 * Place along the plank, m, of a column.
 *
 * @param strip straightened picture
 * @param column index, fractions allowed
 * @returns m from the entry end
 */
export function alongOf(strip: PlankStrip, column: number): number {
  return strip.fromAlongM + column * strip.columnM
}

/**
 * The column of a place along the plank.
 *
 * @param strip straightened picture
 * @param alongM m from the entry end
 * @returns index with fractions; it may lie outside the strip
 */
export function columnAt(strip: PlankStrip, alongM: number): number {
  return (alongM - strip.fromAlongM) / strip.columnM
}

/**
 * Height over the near top edge, m, of a row.
 *
 * @param strip straightened picture
 * @param row index, fractions allowed
 * @returns m, negative below the edge
 */
export function aboveOf(strip: PlankStrip, row: number): number {
  return strip.fromAboveM + row * strip.rowM
}

/**
 * The row of a height over the near top edge.
 *
 * @param strip straightened picture
 * @param aboveM m, negative below the edge
 * @returns index with fractions; it may lie outside the strip
 */
export function rowAt(strip: PlankStrip, aboveM: number): number {
  return (aboveM - strip.fromAboveM) / strip.rowM
}

/** What was behind may lie in a new shadow, or in the sun now. */
const LEAST_GAIN = 0.3
const MOST_GAIN = 1.25

/**
 * How much lighter a place is than what was behind it in the other pictures, by least squares.
 *
 * @param products sum of the products of what is seen and what was behind
 * @param squares sum of the squares of what was behind
 * @returns a factor that light and shadow can make; 1 where nothing is known
 * @example likelyGain(50, 100) // 0.5
 */
export function likelyGain(products: number, squares: number): number {
  return squares > 0 ? Math.min(MOST_GAIN, Math.max(LEAST_GAIN, products / squares)) : 1
}

function colourOf(
  { frame, frameFromReference }: TurnedPicture,
  place: { xPx: number; yPx: number },
  out: Float32Array,
) {
  const { xPx, yPx } = mapImage(frameFromReference, place)
  sampleColour(frame, xPx, yPx, out, 0)
  out[1] = CHROMA_WEIGHT * (out[1]! - 128)
  out[2] = CHROMA_WEIGHT * (out[2]! - 128)
}

function middleOf(colours: readonly Float32Array[], c: number): number {
  return colours.length === 1 ? colours[0]![c]! : median(colours.map((colour) => colour[c]!))
}
