import type { Board } from '../../analysis/board/board.ts'
import type { Marks } from '../../analysis/board/marks.ts'
import { calibrate } from '../../analysis/calibration/calibrate.ts'
import { type MarkPoint, markPoints, type PointOfMarks } from '../../analysis/calibration/mark-points.ts'
import type { Calibration, PictureSize, SeesawCamera } from '../../analysis/calibration/seesaw-camera.ts'
import type { ImagePx } from '../../analysis/geometry/points.ts'
import type { Moment, PointId } from './mark-point.ts'

/** The seesaw as it was fitted to the marks, as lines on the picture. Plain data: it crosses to and from a worker. */
export interface FitDrawing {
  /** The near top edge from the entry to the exit end. */
  readonly edge: readonly ImagePx[]
  /** Outline of the top face. */
  readonly top: readonly ImagePx[]
  /** Outline of the near side face. */
  readonly side: readonly ImagePx[]
  /** Both zones on the near top edge. */
  readonly zones: readonly (readonly ImagePx[])[]
  /** From the pivot on the edge down to the ground below it. */
  readonly foot: readonly ImagePx[]
}

export type Fit =
  | {
      readonly kind: 'fitted'
      readonly misfitPx: number
      readonly misfitM: number
      readonly worst: { readonly point: PointId; readonly misfitPx: number; readonly misfitM: number }
      readonly drawings: Readonly<Record<Moment, FitDrawing>>
    }
  | { readonly kind: 'impossible'; readonly reason: string; readonly point: PointId | null }

/** Only the best camera is drawn: few draws of the posterior make the fit quick. */
const DRAW_COUNT = 2

/** The seesaw fitted to the marks, or the sentence that says which mark is wrong. */
export function fitMarks(board: Board, marks: Marks, picture: PictureSize): Fit {
  const outcome = calibrate(board, marks, picture, { drawCount: DRAW_COUNT })
  if (outcome.kind === 'impossible') {
    const { reason, point } = outcome
    return { kind: 'impossible', reason, point: point === null ? null : idOf(point) }
  }
  return fitted(outcome.calibration, board, markPoints(board, marks))
}

function fitted({ best, misfitPx, worst }: Calibration, board: Board, points: readonly MarkPoint[]): Fit {
  const [entry, exit] = [points[0]!.image, points[4]!.image]
  const mPerPx = board.lengthM / Math.hypot(exit.xPx - entry.xPx, exit.yPx - entry.yPx)
  return {
    kind: 'fitted',
    misfitPx,
    misfitM: misfitPx * mPerPx,
    worst: {
      point: idOf(worst.point),
      misfitPx: worst.misfitPx,
      misfitM: worst.misfitPx * mPerPx,
    },
    drawings: {
      rest: drawingAt(best, best.restAngleRad, board.contactM),
      grounded: drawingAt(best, best.groundedAngleRad, board.contactM),
    },
  }
}

function drawingAt(camera: SeesawCamera, angleRad: number, contactM: number): FitDrawing {
  const { lengthM, widthM, thicknessM } = camera
  const at = (alongM: number, aboveM = 0, acrossM = 0): ImagePx =>
    camera.imageFromPlank({ alongM, aboveM, acrossM }, angleRad)
  // Lens distortion bends straight edges: a few points each.
  const line = (fromM: number, toM: number, aboveM = 0, acrossM = 0): readonly ImagePx[] =>
    Array.from({ length: 9 }, (_, step) => at(fromM + ((toM - fromM) * step) / 8, aboveM, acrossM))
  return {
    edge: line(0, lengthM),
    top: [...line(0, lengthM), ...line(lengthM, 0, 0, widthM)],
    side: [...line(0, lengthM), ...line(lengthM, 0, -thicknessM)],
    zones: [line(0, contactM), line(lengthM - contactM, lengthM)],
    foot: [at(lengthM / 2), camera.imageFromWorld({ xM: 0, yM: 0, acrossM: 0 })],
  }
}

function idOf({ name, when }: PointOfMarks): PointId {
  return { moment: when, name }
}
