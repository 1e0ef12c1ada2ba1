import type { Board } from '../board/board.ts'
import type { Marks } from '../board/marks.ts'
import { calibrate } from '../calibration/calibrate.ts'
import { marksInRestFrame } from '../calibration/in-one-frame.ts'
import { refineCalibration } from '../calibration/refine-calibration.ts'
import type { Calibration, PictureSize, SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { FrameSightings } from '../calibration/sightings.ts'
import { mapImage } from '../camera/camera-motion.ts'
import type { Frame } from '../clip/frame.ts'
import type { ImagePx } from '../geometry/points.ts'
import { median } from '../numeric/robust.ts'
import { seesawCameraFollower } from '../scene/watch.ts'
import type { FoundPlank } from './find-plank.ts'
import type { TurnedPicture } from './plank-strip.ts'
import { angleOf, type PlankSight, sightPlank } from './sight-plank.ts'

/** A point of a mark; null where it was not found well enough to be offered. */
export type PointFound = ImagePx | null

/** A plank found to a part of a pixel, full-resolution image px of the frame that each part belongs to. */
export interface RefinedPlank {
  readonly rest: {
    readonly frame: number
    readonly entryEnd: PointFound
    readonly exitEnd: PointFound
    readonly pivot: PointFound
    readonly upContactEdge: PointFound
    readonly downContactEdge: PointFound
  }
  readonly grounded: { readonly frame: number; readonly entryEnd: PointFound; readonly exitEnd: PointFound }
  /** Root mean square distance of edges, ends and borders from where the fitted seesaw has them, px. */
  readonly misfitPx: number
}

/** How far off the rough marks may be, 1 sd, px. */
const ROUGH_SD_PX = 5
/** The camera between two pictures of one clip, followed by its surroundings, 1 sd, px. */
const FOLLOWED_SD_PX = 0.3
/** What is seen of a feature may lie off it by a constant, 1 sd, px. */
const OFFSET_SD_PX = 0.25
/**
 * Rounds of looking and fitting, and how exactly the sightings are believed in each, 1 sd, px: at first loosely, so that
 * a few wild ones cannot draw the camera to them.
 */
const ROUNDS_SD_PX = [1, 0.5, 0.15, 0.15]
/** In this round it is decided which picture shows the plank landed. */
const CHOOSING_ROUND = 1
/** A landed picture in which the board has turned less than this short of the furthest lies as well, rad. */
const AS_FAR_RAD = 0.002
/** A point that is known no better is not offered, 1 sd as a share of the plank's length. */
const MOST_SD = 0.0022
const STILL = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1)

/**
 * Places the marks of a roughly found plank to a part of a pixel: the seesaw is calibrated from the rough marks, its
 * edges, ends and zone borders are looked for where that camera expects them, the camera is refined by them, and so on.
 *
 * @param board lengths in m
 * @param found rough marks
 * @param picture size of the displayed picture, px
 * @param rest the frame of the resting board, colour, best in full size
 * @param landed frames in which the board may have landed, the same view, display order
 * @returns null where no seesaw fits
 */
export function refinePlank(
  board: Board,
  found: FoundPlank,
  picture: PictureSize,
  rest: Frame,
  landed: readonly Frame[],
): RefinedPlank | null {
  const rough = roughly(board, { clip: '', rest: found.rest, grounded: found.grounded }, picture)
  if (rough === null) return null
  const restPicture: TurnedPicture = { frame: rest, frameFromReference: STILL }
  const follower = seesawCameraFollower(rest, rough.best, picture)
  const landedPictures = landed.map((frame) => ({
    frame,
    frameFromReference: follower.follow(frame)?.frameFromReference ?? STILL,
  }))
  let lying = landedPictures.find(({ frame }) => frame.index === found.grounded.frame)
  if (lying === undefined) return null
  const inRest = marksInRestFrame({ clip: '', rest: found.rest, grounded: found.grounded }, lying.frameFromReference)
  let calibration = roughly(board, inRest, picture, FOLLOWED_SD_PX)
  if (calibration === null) return null
  let seen: readonly FrameSightings[] = []
  for (const [round, sdPx] of ROUNDS_SD_PX.entries()) {
    const { best } = calibration
    const resting = sightPlank(calibration, board.contactM, 'rest', restPicture, landedPictures)
    const candidates: readonly TurnedPicture[] = round === CHOOSING_ROUND ? landedPictures : [lying]
    const looks = candidates.map((one) => ({
      picture: one,
      sight: sightPlank(calibration!, board.contactM, 'grounded', one, [restPicture]),
    }))
    const chosen = furthest(looks, best)
    lying = chosen.picture
    const start: Calibration | null = roughly(board, marksOf(board, best, rest.index, lying), picture, FOLLOWED_SD_PX)
    if (start === null) return null
    seen = [
      believed(resting, 'rest', best.restAngleRad, sdPx),
      believed(chosen.sight, 'grounded', best.groundedAngleRad, sdPx),
    ]
    calibration = refineCalibration(start, seen, { familyOffsetSdPx: OFFSET_SD_PX, frameShiftSdPx: FOLLOWED_SD_PX })
  }
  return offered(board, calibration, rest.index, lying, misfitOf(calibration.best, seen))
}

function roughly(board: Board, marks: Marks, picture: PictureSize, groundedShiftSdPx?: number): Calibration | null {
  const options = { clickSdPx: ROUGH_SD_PX, ...(groundedShiftSdPx === undefined ? {} : { groundedShiftSdPx }) }
  const outcome = calibrate(board, marks, picture, options)
  return outcome.kind === 'impossible' ? null : outcome.calibration
}

function believed(
  { sightings }: PlankSight,
  board: 'rest' | 'grounded',
  roughAngleRad: number,
  leastSdPx: number,
): FrameSightings {
  return {
    board,
    roughAngleRad,
    sightings: sightings.map((sighting) => ({ ...sighting, sdPx: Math.max(leastSdPx, sighting.sdPx) })),
  }
}

/** Of several pictures the one in which the exit end lies lowest; of those alike the one in which most is seen. */
function furthest(looks: readonly { picture: TurnedPicture; sight: PlankSight }[], camera: SeesawCamera) {
  const turned = looks.flatMap((look) => {
    const turnRad = turnOf(look.sight, camera)
    return turnRad === null ? [] : [{ ...look, turnRad }]
  })
  if (turned.length === 0) return looks[0]!
  const most = Math.max(...turned.map(({ turnRad }) => turnRad))
  return turned
    .filter(({ turnRad }) => turnRad > most - AS_FAR_RAD)
    .reduce((a, b) => (b.sight.sightings.length > a.sight.sightings.length ? b : a))
}

/** How much further the board has turned than was thought, rad; null when too little of its edge was seen. */
function turnOf({ nearTop }: PlankSight, { lengthM }: SeesawCamera): number | null {
  const left = nearTop.filter(({ alongM }) => alongM < 0.4 * lengthM)
  const right = nearTop.filter(({ alongM }) => alongM > 0.6 * lengthM)
  if (left.length < 2 || right.length < 2) return null
  const middle = (of: typeof left) => ({
    alongM: median(of.map(({ alongM }) => alongM)),
    offM: median(of.map(({ offM }) => offM)),
  })
  const [a, b] = [middle(left), middle(right)]
  return (a.offM - b.offM) / (b.alongM - a.alongM)
}

function marksOf(board: Board, camera: SeesawCamera, restFrame: number, lying: TurnedPicture): Marks {
  const at = (alongM: number, when: 'rest' | 'grounded') =>
    camera.imageFromPlank({ alongM, aboveM: 0, acrossM: 0 }, angleOf(camera, when))
  const { lengthM, contactM } = board
  return {
    clip: '',
    rest: {
      frame: restFrame,
      entryEnd: at(0, 'rest'),
      exitEnd: at(lengthM, 'rest'),
      pivot: at(lengthM / 2, 'rest'),
      upContactEdge: at(contactM, 'rest'),
      downContactEdge: at(lengthM - contactM, 'rest'),
    },
    grounded: { frame: lying.frame.index, entryEnd: at(0, 'grounded'), exitEnd: at(lengthM, 'grounded') },
  }
}

function misfitOf(camera: SeesawCamera, frames: readonly FrameSightings[]): number {
  let squares = 0
  let count = 0
  for (const { board, sightings } of frames) {
    if (board === 'moving') continue
    for (const { alongM, edge, acrossM = 0, image, normal } of sightings) {
      const aboveM = edge === 'upper' ? 0 : -camera.thicknessM
      const { xPx, yPx } = camera.imageFromPlank({ alongM, aboveM, acrossM }, angleOf(camera, board))
      const [dx, dy] = [image.xPx - xPx, image.yPx - yPx]
      squares += normal === undefined ? dx * dx + dy * dy : (dx * normal.x + dy * normal.y) ** 2
      count++
    }
  }
  return count === 0 ? Infinity : Math.sqrt(squares / count)
}

function offered(
  board: Board,
  { best, draws }: Calibration,
  restFrame: number,
  lying: TurnedPicture,
  misfitPx: number,
): RefinedPlank {
  const marks = marksOf(board, best, restFrame, lying)
  const others = draws.map((draw) => marksOf(board, draw, restFrame, lying))
  const { entryEnd, exitEnd } = marks.rest
  const mostPx = MOST_SD * Math.hypot(exitEnd.xPx - entryEnd.xPx, exitEnd.yPx - entryEnd.yPx)
  const sure = (of: (marks: Marks) => ImagePx): PointFound => {
    const point = of(marks)
    const squares = others.map((other) => (of(other).xPx - point.xPx) ** 2 + (of(other).yPx - point.yPx) ** 2)
    return Math.sqrt(squares.reduce((sum, one) => sum + one, 0) / squares.length) > mostPx ? null : point
  }
  const landed = (of: (marks: Marks) => ImagePx): PointFound => {
    const point = sure(of)
    return point === null ? null : mapImage(lying.frameFromReference, point)
  }
  return {
    rest: {
      frame: restFrame,
      entryEnd: sure(({ rest }) => rest.entryEnd),
      exitEnd: sure(({ rest }) => rest.exitEnd),
      pivot: sure(({ rest }) => rest.pivot),
      upContactEdge: sure(({ rest }) => rest.upContactEdge),
      downContactEdge: sure(({ rest }) => rest.downContactEdge),
    },
    grounded: {
      frame: lying.frame.index,
      entryEnd: landed(({ grounded }) => grounded!.entryEnd),
      exitEnd: landed(({ grounded }) => grounded!.exitEnd),
    },
    misfitPx,
  }
}
