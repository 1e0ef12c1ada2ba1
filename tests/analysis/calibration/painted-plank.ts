import type { PinholeSeesaw } from '../../../analysis/calibration/pinhole-seesaw.ts'
import type { PictureSize } from '../../../analysis/calibration/seesaw-camera.ts'
import type { Frame } from '../../../analysis/clip/frame.ts'
import { seededRandom } from '../../../analysis/numeric/random.ts'

/** Y, U, V of grass, zones, middle and top face. */
const GROUND = [95, 118, 116]
const ZONE = [170, 60, 150]
const MIDDLE = [70, 165, 105]
const TOP_BRIGHTER_BY = 18

/** Something uniform before the plank, hiding all between two places along it. */
export interface Screen {
  readonly fromM: number
  readonly toM: number
}

/**
 * A picture of the plank's near and top face before uneven grass, with soft borders and sensor noise. Painted pixel by
 * pixel from the exact camera, so that every border lies where the camera says.
 */
export function paintedPlank(
  truth: PinholeSeesaw,
  contactM: number,
  picture: PictureSize,
  angleRad: number,
  seed: number,
  screen?: Screen,
): Frame {
  const { widthPx, heightPx } = picture
  const random = seededRandom(seed)
  const y = new Uint8Array(widthPx * heightPx)
  const u = new Uint8Array((widthPx * heightPx) / 4)
  const v = new Uint8Array((widthPx * heightPx) / 4)
  const farUpper = farEdge(truth, angleRad)
  const colour = (xPx: number, yPx: number): readonly number[] => {
    const { alongM, aboveM } = truth.plankFromImage({ xPx, yPx }, angleRad, 0)
    const { lengthM, thicknessM } = truth
    if (screen !== undefined && alongM > screen.fromM && alongM < screen.toM) return [40, 128, 128]
    const top = Math.max(0, farUpper(alongM))
    if (alongM < 0 || alongM > lengthM || aboveM > top || aboveM < -thicknessM) {
      const patch = 6 * Math.sin(xPx / 37) * Math.cos(yPx / 23)
      return [GROUND[0]! + patch, GROUND[1]!, GROUND[2]!]
    }
    const paint = alongM < contactM || alongM > lengthM - contactM ? ZONE : MIDDLE
    return aboveM > 0 ? [paint[0]! + TOP_BRIGHTER_BY, paint[1]!, paint[2]!] : paint
  }
  const chroma = new Float64Array(2)
  for (let row = 0; row < heightPx; row += 2) {
    for (let column = 0; column < widthPx; column += 2) {
      chroma.fill(0)
      for (const [dx, dy] of [
        [0, 0],
        [1, 0],
        [0, 1],
        [1, 1],
      ] as const) {
        let luma = 0
        for (const [sx, sy] of [
          [0.25, 0.25],
          [0.75, 0.25],
          [0.25, 0.75],
          [0.75, 0.75],
        ] as const) {
          const [a, b, c] = colour(column + dx + sx, row + dy + sy)
          luma += a! / 4
          chroma[0]! += b! / 16
          chroma[1]! += c! / 16
        }
        y[(row + dy) * widthPx + column + dx] = Math.round(luma + 2 * random.normal())
      }
      u[(row / 2) * (widthPx / 2) + column / 2] = Math.round(chroma[0]! + random.normal())
      v[(row / 2) * (widthPx / 2) + column / 2] = Math.round(chroma[1]! + random.normal())
    }
  }
  return { index: 0, ptsS: 0, view: { widthPx, heightPx, originXPx: 0, originYPx: 0, scale: 1 }, y, u, v }
}

/** Where the far top edge appears in the near edge's plane, m above it, by the place along the near edge. */
function farEdge(truth: PinholeSeesaw, angleRad: number): (alongM: number) => number {
  const seen = (place: number) => {
    const image = truth.imageFromPlank({ alongM: place, aboveM: 0, acrossM: truth.widthM }, angleRad)
    return truth.plankFromImage(image, angleRad, 0)
  }
  const entry = seen(0)
  const exit = seen(truth.lengthM)
  const slope = (exit.aboveM - entry.aboveM) / (exit.alongM - entry.alongM)
  return (alongM) => entry.aboveM + slope * (alongM - entry.alongM)
}
