import type { ClipInfo } from '../../../analysis/clip/frame.ts'
import type { CropPx } from '../../../analysis/clip/view.ts'
import { applyHomography } from '../../../analysis/geometry/homography.ts'
import type { ShownBoard } from '../../measuring/measured-ride.ts'

/** Room over the plank for the dog, and beyond its ends, m. */
const overPlankM = 1
const beyondEndM = 0.35
/** Width by height of a still. */
const shape = 16 / 9
const noMotion = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1)

/**
 * The part of a frame that shows the whole seesaw, in both of its resting positions, with room for the dog: 16 by 9
 * where the picture allows it.
 */
export function stillCrop(picture: ShownBoard, k: number, clip: Pick<ClipInfo, 'widthPx' | 'heightPx'>): CropPx {
  const camera = picture.calibration.best
  const { lengthM, widthM } = picture.board
  const known = picture.cameraMotion[k]
  const motion = known === undefined || known.some(Number.isNaN) ? noMotion : known
  const corners = [camera.restAngleRad, camera.groundedAngleRad].flatMap((angleRad) =>
    [-beyondEndM, lengthM + beyondEndM].flatMap((alongM) =>
      [0, overPlankM].map((aboveM) => {
        const { xPx, yPx } = camera.imageFromPlank({ alongM, aboveM, acrossM: widthM / 2 }, angleRad)
        return applyHomography(motion, xPx, yPx)
      }),
    ),
  )
  const xs = corners.map(([x]) => x)
  const ys = corners.map(([, y]) => y)
  const [left, right] = [Math.min(...xs), Math.max(...xs)]
  const [top, bottom] = [Math.min(...ys), Math.max(...ys)]
  const width = Math.max(right - left, (bottom - top) * shape)
  return within({ middleXPx: (left + right) / 2, middleYPx: (top + bottom) / 2, width, height: width / shape }, clip)
}

function within(
  want: { middleXPx: number; middleYPx: number; width: number; height: number },
  clip: Pick<ClipInfo, 'widthPx' | 'heightPx'>,
): CropPx {
  const shrink = Math.min(1, clip.widthPx / want.width, clip.heightPx / want.height)
  const widthPx = want.width * shrink
  const heightPx = want.height * shrink
  const clamp = (value: number, most: number) => Math.min(Math.max(value, 0), most)
  return {
    xPx: clamp(want.middleXPx - widthPx / 2, clip.widthPx - widthPx),
    yPx: clamp(want.middleYPx - heightPx / 2, clip.heightPx - heightPx),
    widthPx,
    heightPx,
  }
}
