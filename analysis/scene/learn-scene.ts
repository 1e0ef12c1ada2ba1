import { BoardFollower } from './follow-board.ts'
import { learnPlank, type PlankAppearance } from './plank-appearance.ts'
import { roughAngle } from './rough-angle.ts'
import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { CameraMotion } from '../camera/camera-motion.ts'
import type { Frame } from '../clip/frame.ts'
import { identityHomography } from '../geometry/homography.ts'
import { buildBackground, type Background, type Band, type Region, type Still } from './background.ts'

/** How far around the plank the first, rough and the exact background leave out what may be plank, decoded px. */
const ROUGH_MARGIN_PX = 2.5
const EXACT_MARGIN_PX = 1.3
/** Steps between angles that are tried, rad: over the whole swing, and to either side of a rough angle. */
const SWING_STEP_RAD = 0.02
const NEAR_STEP_RAD = 0.006
/** With less of the edges in agreement a still's angle is not known. */
const LEAST_AGREED = 0.3
/** The scene below the plank that is learnt, m. */
const BELOW_M = -0.2
/** The board may lie this far beyond where it rests and where it has landed, rad. */
const BEYOND_RAD = 0.03
/** What of the scene is learnt: this far beyond both ends, and this far below the plank, m. */
const BESIDE_M = 0.7
const UNDER_M = -0.35

/** The seesaw and what is behind it, without dog and people. */
export interface Scene {
  readonly background: Background
  readonly appearance: PlankAppearance
  /** Size of a decoded pixel at the plank, m. */
  readonly pxM: number
  /** The stills it was learnt from, with the board's angle in each. */
  readonly stills: readonly Still[]
}

/** Enough to see the plank against. */
const PLANK_BAND: Band = { fromAboveM: BELOW_M, toAboveM: 0.15 }

/**
 * Learns plank and background from stills spread over a stretch of clip, in two rounds: roughly known board angles
 * first, then exact ones.
 *
 * @param camera calibrated on `reference`, the frame of the rest marks
 * @param stills pictures with their camera motion, the board anywhere
 * @param heightM how far above the plank the background must reach, m
 * @returns the scene; stills in which the board was not found keep a null angle
 */
export function learnScene(
  camera: SeesawCamera,
  reference: Frame,
  stills: readonly { readonly frame: Frame; readonly motion: CameraMotion }[],
  heightM: number,
): Scene {
  const scale = reference.view.scale
  const pxM = decodedPxM(camera, scale)
  const region = sweptRegion(camera, heightM)
  const atRest: Still = {
    frame: reference,
    frameFromReference: identityHomography(),
    angleRad: camera.restAngleRad,
    gain: 1,
  }
  const first = learnPlank(camera, [atRest], pxM)
  const rough: Still[] = stills.map(({ frame, motion }) => ({
    frame,
    frameFromReference: motion.frameFromReference,
    gain: motion.gain,
    angleRad: roughAngle(camera, first.near, first.binM, frame, motion.frameFromReference, motion.gain),
  }))
  const roughBackground = buildBackground(camera, rough, region, scale, PLANK_BAND, ROUGH_MARGIN_PX * pxM)
  const roughAppearance = learnPlank(camera, [atRest, ...rough.filter((s) => s.angleRad !== null)], pxM)
  const follower = new BoardFollower(camera, roughBackground, roughAppearance, pxM, 0.5 * pxM)
  const exact: Still[] = stills.map(({ frame, motion }, k) => {
    const guess = rough[k]!.angleRad
    const candidates =
      guess === null ? swing(camera, SWING_STEP_RAD) : [guess, guess - NEAR_STEP_RAD, guess + NEAR_STEP_RAD]
    const sight = follower.find(frame, motion, candidates)
    return { ...rough[k]!, angleRad: sight === null || sight.agreed < LEAST_AGREED ? null : sight.angleRad }
  })
  const background = buildBackground(
    camera,
    exact,
    region,
    scale,
    { fromAboveM: BELOW_M, toAboveM: heightM },
    EXACT_MARGIN_PX * pxM,
  )
  const appearance = learnPlank(camera, [atRest, ...exact.filter((s) => s.angleRad !== null)], pxM)
  return { background, appearance, pxM, stills: exact }
}

/**
 * Board angles from a little below rest to a little beyond grounded, every `stepRad`.
 *
 * @param camera the calibrated seesaw camera
 */
export function swing(camera: SeesawCamera, stepRad: number): number[] {
  const angles: number[] = []
  for (let a = camera.restAngleRad - BEYOND_RAD; a <= camera.groundedAngleRad + BEYOND_RAD; a += stepRad) angles.push(a)
  return angles
}

/**
 * Size of a decoded pixel at the plank's middle, m.
 *
 * @param camera the calibrated seesaw camera
 * @param scale decoded px per full-resolution px
 */
export function decodedPxM(camera: SeesawCamera, scale: number): number {
  const middle = camera.lengthM / 2
  const a = camera.imageFromPlank({ alongM: middle - 0.5, aboveM: 0, acrossM: 0 }, 0)
  const b = camera.imageFromPlank({ alongM: middle + 0.5, aboveM: 0, acrossM: 0 }, 0)
  return 1 / (Math.hypot(b.xPx - a.xPx, b.yPx - a.yPx) * scale)
}

/**
 * The part of the reference picture that plank and dog can sweep over.
 *
 * @param camera the calibrated seesaw camera
 * @param heightM how far above the plank, m
 */
export function sweptRegion(camera: SeesawCamera, heightM: number): Region {
  const xs: number[] = []
  const ys: number[] = []
  for (const angleRad of [camera.restAngleRad, camera.groundedAngleRad]) {
    for (const alongM of [-BESIDE_M, camera.lengthM + BESIDE_M]) {
      for (const aboveM of [UNDER_M, heightM]) {
        const p = camera.imageFromPlank({ alongM, aboveM, acrossM: 0 }, angleRad)
        xs.push(p.xPx)
        ys.push(p.yPx)
      }
    }
  }
  return {
    x0Px: Math.floor(Math.min(...xs)),
    y0Px: Math.floor(Math.min(...ys)),
    x1Px: Math.ceil(Math.max(...xs)),
    y1Px: Math.ceil(Math.max(...ys)),
  }
}
