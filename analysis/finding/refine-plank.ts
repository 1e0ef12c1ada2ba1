import type { Board } from '../board/board.ts'
import type { Marks } from '../board/marks.ts'
import { calibrate } from '../calibration/calibrate.ts'
import { marksInRestFrame } from '../calibration/in-one-frame.ts'
import { refineCalibration } from '../calibration/refine-calibration.ts'
import type { Calibration, CalibrationOptions, PictureSize, SeesawCamera } from '../calibration/seesaw-camera.ts'
import { type ViewFault, viewFault } from './telling-view.ts'
import type { FrameSightings, Sighting } from '../calibration/sightings.ts'
import { mapImage } from '../camera/camera-motion.ts'
import type { Frame } from '../clip/frame.ts'
import type { ImagePx } from '../geometry/points.ts'
import { median } from '../numeric/robust.ts'
import { seesawCameraFollower } from '../scene/watch.ts'
import type { FoundPlank } from './find-plank.ts'
import { type PlankBands, readBands } from './plank-bands.ts'
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
/** The same before the seesaw is calibrated. */
const ROUGHLY_FOLLOWED_SD_PX = 2
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
/** The bands must be so much likelier read one way than any other, as a sum of squares. */
const LEAST_LEAD = 7
/** How exactly they tell the near edge, 1 sd, px, and the camera's height, m. */
const BANDS_SD_PX = 0.7
const BANDS_HEIGHT_SD_M = 0.15
const LAST_ROUNDS_SD_PX = [0.5, 0.15]
/** The close look may end so far from where the bands put the near edge, px. */
const MOST_OFF_BANDS_PX = 2
/** What was seen of a point may lie so far from the fitted seesaw, px of the picture that was looked at. */
const MOST_OFF_PX = 1.2
/** So much of all that was seen must be where the fitted seesaw has it, or something else was taken for the plank. */
const LEAST_SHARE = 0.85
/** And all of it so near in the mean (root of the squares), px of the picture that was looked at: right planks fit to 0.1 to 0.6. */
const MOST_MISFIT_PX = 0.75
/** Edges are seen beside a point when they are seen so near, share of the length, and in so many places. */
const NEAR = 0.3
const LEAST_EDGES = 3
const STILL = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1)

/**
 * Why a roughly found plank could not be placed: too little of it was seen, no seesaw of these lengths fits, its edges can
 * be read in two ways, or the view.
 */
export type NotPlaced = 'too-little' | 'unlike-board' | 'edges' | ViewFault

/** A person marked it in another picture from the same place, or nobody has said which edge it is. */
export type NearEdge = 'marked' | 'in-doubt'

/**
 * Places the marks of a roughly found plank to a part of a pixel: the seesaw is calibrated from the rough marks, its
 * edges, ends and zone borders are looked for where that camera expects them, the camera is refined by them, and so on.
 *
 * @param board lengths in m
 * @param found rough marks
 * @param picture size of the displayed picture, px
 * @param rest the frame of the resting board, colour, best in full size
 * @param landed frames in which the board may have landed, the same view, display order
 * @param nearEdge whether the rough marks are known to lie on the near edge, or may lie on another one
 * @returns or why it could not be placed
 */
export function refinePlank(
  board: Board,
  found: FoundPlank,
  picture: PictureSize,
  rest: Frame,
  landed: readonly Frame[],
  nearEdge: NearEdge = 'in-doubt',
): RefinedPlank | NotPlaced {
  const asMarked = { clip: '', rest: found.rest, grounded: found.grounded }
  const motion = found.motions?.get(found.grounded.frame)
  const rough =
    motion === undefined
      ? roughly(board, asMarked, picture)
      : roughly(board, marksInRestFrame(asMarked, motion), picture, ROUGHLY_FOLLOWED_SD_PX)
  if (rough === null) return 'too-little'
  const restPicture: TurnedPicture = { frame: rest, frameFromReference: STILL }
  const follower = seesawCameraFollower(rest, rough.best, picture)
  const landedPictures = landed.map((frame) => {
    const start = found.motions?.get(frame.index)
    if (start !== undefined) follower.startFrom(start)
    return { frame, frameFromReference: follower.follow(frame)?.frameFromReference ?? start ?? STILL }
  })
  const lying = landedPictures.find(({ frame }) => frame.index === found.grounded.frame)
  if (lying === undefined) return 'too-little'
  const inRest = marksInRestFrame({ clip: '', rest: found.rest, grounded: found.grounded }, lying.frameFromReference)
  const start = roughly(board, inRest, picture, FOLLOWED_SD_PX)
  if (start === null) return 'too-little'
  const pictures = { rest: restPicture, landed: landedPictures }
  const settled = settle(board, picture, pictures, { calibration: start, lying }, ROUNDS_SD_PX)
  if (settled === null) return 'too-little'
  const best = nearEdge === 'marked' ? settled : byBands(board, picture, pictures, settled)
  if (typeof best === 'string') return best
  return offered(board, best.calibration.best, rest, best.lying, best.seen) ?? 'unlike-board'
}

interface Pictures {
  readonly rest: TurnedPicture
  readonly landed: readonly TurnedPicture[]
}

/** A camera, and the picture that shows the plank landed. */
interface Guess {
  readonly calibration: Calibration
  readonly lying: TurnedPicture
}

interface Settled extends Guess {
  readonly seen: { readonly rest: PlankSight; readonly grounded: PlankSight }
}

/** Looks and fits, round by round; null when no seesaw fits. */
function settle(
  board: Board,
  picture: PictureSize,
  { rest, landed }: Pictures,
  from: Guess,
  roundsSdPx: readonly number[],
  known: Pick<CalibrationOptions, 'heightM'> = {},
): Settled | null {
  let { calibration, lying } = from
  let seen: Settled['seen'] | null = null
  for (const [round, sdPx] of roundsSdPx.entries()) {
    const { best } = calibration
    const resting = sightPlank(calibration, board.contactM, 'rest', rest, landed)
    const candidates: readonly TurnedPicture[] =
      roundsSdPx === ROUNDS_SD_PX && round === CHOOSING_ROUND ? landed : [lying]
    const looks = candidates.map((one) => ({
      picture: one,
      sight: sightPlank(calibration, board.contactM, 'grounded', one, [rest]),
    }))
    const chosen = furthest(looks, best)
    lying = chosen.picture
    const start = roughly(board, marksOf(board, best, rest.frame.index, lying), picture, FOLLOWED_SD_PX, known)
    if (start === null) return null
    seen = { rest: resting, grounded: chosen.sight }
    calibration = refineCalibration(
      start,
      [
        believed(resting, 'rest', best.restAngleRad, sdPx),
        believed(chosen.sight, 'grounded', best.groundedAngleRad, sdPx),
      ],
      { familyOffsetSdPx: OFFSET_SD_PX, frameShiftSdPx: FOLLOWED_SD_PX },
    )
  }
  return seen === null ? null : { calibration, lying, seen }
}

/**
 * The settled seesaw, its near edge put where the bands along the plank say it is. Refused where they can be read in two
 * ways, where the view does not tell them apart, or where the close look ends elsewhere.
 */
function byBands(board: Board, picture: PictureSize, pictures: Pictures, settled: Settled): Settled | NotPlaced {
  const { best } = settled.calibration
  const views = {
    rest: { when: 'rest' as const, picture: pictures.rest, behind: pictures.landed },
    grounded: { when: 'grounded' as const, picture: settled.lying, behind: [pictures.rest] },
  }
  const bands = readBands(settled.calibration, board.contactM, views)
  if (bands === null || bands.lead < LEAST_LEAD) return 'edges'
  const marks = marksOf(board, best, pictures.rest.frame.index, settled.lying, bands.nearAboveM)
  const built = { ...board, thicknessM: board.thicknessM ?? bands.thicknessM }
  const known = { heightM: [cameraHeightM(board, best, bands), BANDS_HEIGHT_SD_M] } as const
  const outcome = calibrate(built, marks, picture, {
    ...known,
    clickSdPx: BANDS_SD_PX / pictures.rest.frame.view.scale,
    groundedShiftSdPx: FOLLOWED_SD_PX,
  })
  if (outcome.kind === 'impossible') return 'edges'
  const guess = { calibration: outcome.calibration, lying: settled.lying }
  const anew = settle(built, picture, pictures, guess, LAST_ROUNDS_SD_PX, known)
  if (anew === null) return 'edges'
  const fault = viewFault(anew.calibration.best, cameraHeightM(board, best, bands), board.pivotHeightM)
  if (fault !== null) return fault
  const mostPx = MOST_OFF_BANDS_PX / pictures.rest.frame.view.scale
  return apartPx(anew.calibration.best, outcome.calibration.best) < mostPx ? anew : 'edges'
}

/** How high the camera stood, m, from how much it saw of the top or the underside. */
function cameraHeightM(board: Board, camera: SeesawCamera, { topM, thicknessM }: PlankBands): number {
  const heights = (['rest', 'grounded'] as const).map((when) => {
    const seen = topM[when]
    const perM = (camera.widthM * Math.cos(angleOf(camera, when))) / camera.distanceToLandingM
    const below = seen > 0 ? 0 : seen < 0 ? thicknessM : thicknessM / 2
    return board.pivotHeightM - below + seen / perM
  })
  return Math.max(0.1, (heights[0]! + heights[1]!) / 2)
}

/** How far two cameras put the plank's near edge apart at most, at rest and landed, across it: px. */
function apartPx(a: SeesawCamera, b: SeesawCamera): number {
  const offs = (['rest', 'grounded'] as const).flatMap((when) =>
    [0, a.lengthM / 2, a.lengthM].map((alongM) => {
      const image = b.imageFromPlank({ alongM, aboveM: 0, acrossM: 0 }, angleOf(b, when))
      const { aboveM } = a.plankFromImage(image, angleOf(a, when), 0)
      return (Math.abs(aboveM) * lengthPxOf(a, when)) / a.lengthM
    }),
  )
  return Math.max(...offs)
}

function roughly(
  board: Board,
  marks: Marks,
  picture: PictureSize,
  groundedShiftSdPx?: number,
  known: Pick<CalibrationOptions, 'heightM'> = {},
): Calibration | null {
  const options = {
    ...known,
    clickSdPx: ROUGH_SD_PX,
    ...(groundedShiftSdPx === undefined ? {} : { groundedShiftSdPx }),
  }
  const outcome = calibrate(board, marks, picture, options)
  return outcome.kind === 'impossible' ? null : outcome.calibration
}

function believed(
  sight: PlankSight,
  board: 'rest' | 'grounded',
  roughAngleRad: number,
  leastSdPx: number,
): FrameSightings {
  const sightings = all(sight).map((one) => ({ ...one, sdPx: Math.max(leastSdPx, one.sdPx) }))
  return { board, roughAngleRad, sightings }
}

function all({ nearTop, otherEdges, places }: PlankSight): Sighting[] {
  return [...nearTop, ...otherEdges, ...places]
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
    .reduce((a, b) => (all(b.sight).length > all(a.sight).length ? b : a))
}

/** How much further the board has turned than was thought, rad; null when too little of its edges was seen. */
function turnOf({ nearTop, otherEdges }: PlankSight, camera: SeesawCamera): number | null {
  const { lengthM } = camera
  const placed = [...nearTop, ...otherEdges].map((sighting) => {
    const downPx = offOf(sighting, camera, camera.groundedAngleRad) * Math.sign(sighting.normal?.y ?? 0)
    return { alongM: sighting.alongM, downM: (downPx * lengthM) / lengthPxOf(camera, 'grounded') }
  })
  const middle = (of: typeof placed) => ({
    alongM: median(of.map(({ alongM }) => alongM)),
    downM: median(of.map(({ downM }) => downM)),
  })
  const [left, right] = [placed.filter((p) => p.alongM < 0.4 * lengthM), placed.filter((p) => p.alongM > 0.6 * lengthM)]
  if (left.length < 2 || right.length < 2) return null
  const [a, b] = [middle(left), middle(right)]
  return (b.downM - a.downM) / (b.alongM - a.alongM)
}

/** How far a sighting lies from where the camera has it, px in the direction in which it was measured. */
function offOf(sighting: Sighting, camera: SeesawCamera, angleRad: number): number {
  const { alongM, edge, acrossM = 0, image, normal = { x: 0, y: 0 } } = sighting
  const aboveM = edge === 'upper' ? 0 : -camera.thicknessM
  const { xPx, yPx } = camera.imageFromPlank({ alongM, aboveM, acrossM }, angleRad)
  return (image.xPx - xPx) * normal.x + (image.yPx - yPx) * normal.y
}

function lengthPxOf(camera: SeesawCamera, when: 'rest' | 'grounded'): number {
  const [entry, exit] = [0, camera.lengthM].map((alongM) =>
    camera.imageFromPlank({ alongM, aboveM: 0, acrossM: 0 }, angleOf(camera, when)),
  ) as [ImagePx, ImagePx]
  return Math.hypot(exit.xPx - entry.xPx, exit.yPx - entry.yPx)
}

/** The marks as a camera has them; `aboveM` shifts them off the near edge. */
function marksOf(
  board: Board,
  camera: SeesawCamera,
  restFrame: number,
  lying: TurnedPicture,
  aboveM = { rest: 0, grounded: 0 },
): Marks {
  const at = (alongM: number, when: 'rest' | 'grounded') =>
    camera.imageFromPlank({ alongM, aboveM: aboveM[when], acrossM: 0 }, angleOf(camera, when))
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

function offered(
  board: Board,
  camera: SeesawCamera,
  rest: Frame,
  lying: TurnedPicture,
  seen: { readonly rest: PlankSight; readonly grounded: PlankSight },
): RefinedPlank | null {
  const { lengthM, contactM } = board
  const mostPx = MOST_OFF_PX / rest.view.scale
  const offs = (['rest', 'grounded'] as const).flatMap((when) =>
    all(seen[when]).map((one) => offOf(one, camera, angleOf(camera, when))),
  )
  if (offs.filter((off) => Math.abs(off) <= mostPx).length < LEAST_SHARE * offs.length) return null
  const misfitPx = Math.sqrt(offs.reduce((sum, off) => sum + off * off, 0) / Math.max(1, offs.length))
  if (misfitPx > MOST_MISFIT_PX / rest.view.scale) return null
  const point = (alongM: number, when: 'rest' | 'grounded'): PointFound => {
    const other = when === 'rest' ? 'grounded' : 'rest'
    const isNear = (one: Sighting) => Math.abs(offOf(one, camera, angleOf(camera, when))) <= mostPx
    const isNearThen = (one: Sighting) => Math.abs(offOf(one, camera, angleOf(camera, other))) <= mostPx
    const elsewhere = seen[other].places.filter(isNearThen)
    if (!isSure(alongM, lengthM, seen[when], isNear, elsewhere)) return null
    const at = camera.imageFromPlank({ alongM, aboveM: 0, acrossM: 0 }, angleOf(camera, when))
    return when === 'rest' ? at : mapImage(lying.frameFromReference, at)
  }
  return {
    rest: {
      frame: rest.index,
      entryEnd: point(0, 'rest'),
      exitEnd: point(lengthM, 'rest'),
      pivot: point(lengthM / 2, 'rest'),
      upContactEdge: point(contactM, 'rest'),
      downContactEdge: point(lengthM - contactM, 'rest'),
    },
    grounded: {
      frame: lying.frame.index,
      entryEnd: point(0, 'grounded'),
      exitEnd: point(lengthM, 'grounded'),
    },
    misfitPx,
  }
}

/**
 * Whether a point is known as well as the rest of the plank: long edges were seen beside it, and its own place along
 * the plank, or, where that is hidden or has no colour of its own, the same place while the plank lay `elsewhere`, or
 * places on both sides of it; all of them where the seesaw fitted to everything has them.
 */
function isSure(
  alongM: number,
  lengthM: number,
  { nearTop, otherEdges, places }: PlankSight,
  isNear: (one: Sighting) => boolean,
  elsewhere: readonly Sighting[],
): boolean {
  const edges = [...nearTop, ...otherEdges].filter((one) => Math.abs(one.alongM - alongM) < NEAR * lengthM)
  if (edges.filter(isNear).length < Math.max(LEAST_EDGES, edges.length / 2)) return false
  const own = places.find((one) => one.alongM === alongM)
  if (own !== undefined) return isNear(own)
  // The plank is as long landed as at rest.
  if (elsewhere.some((one) => one.alongM === alongM)) return true
  const sure = [...places.filter(isNear), ...elsewhere]
  return sure.some((one) => one.alongM < alongM) && sure.some((one) => one.alongM > alongM)
}
