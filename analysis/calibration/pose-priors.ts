import type { Board } from '../board/board.ts'
import { lowerCornerHeightM } from './landing-angle.ts'
import type { SeesawPose } from './pinhole-seesaw.ts'
import type { PictureSize } from './seesaw-camera.ts'
import { AXIS_RANGE_M, indexOf, THICKNESS_RANGE_M } from './view-unknowns.ts'

const degrees = Math.PI / 180

/**
 * What is believed before any click of a clip filmed by a person standing or crouching beside the seesaw with a phone
 * held near level: means and sds of independent normal distributions. All from experience, no source, and broad.
 */
const HANDHELD = {
  /** Phones film at 24-40 mm on the 36 mm long side; stabilisation crops a little. */
  focal36Mm: 31,
  logFocalSd: 0.3,
  /** Of the picture's long side. */
  principalSd: 0.01,
  /** Radial term in units of the focal length: about 1 % at the corners of an ordinary picture. */
  distortionSd: 0.03,
  pitchRad: -5 * degrees,
  pitchSdRad: 6 * degrees,
  rollSdRad: 2 * degrees,
  heightM: 1.2,
  heightSdM: 0.4,
  distanceM: 6.5,
  logDistanceSd: 0.6,
  /** Camera away from straight beside the pivot, as an angle. */
  azimuthSdRad: 30 * degrees,
  /** Evenness of the ground under each end relative to the base: mown grass, sand, carpet. */
  groundSdM: 0.015,
  axisBelowTopM: 0.045,
  axisSdM: 0.025,
  axisGivenSdM: 0.004,
  thicknessM: 0.04,
  thicknessSdM: 0.012,
  thicknessGivenSdM: 0.002,
} as const

export const PRIOR_COUNT = 13

/** The axis depth and thickness to start from, m: those of the board file, else what boards commonly have. */
export function likelyBuild(board: Board): { axisBelowTopM: number; thicknessM: number } {
  return {
    axisBelowTopM: board.axisBelowTopM ?? HANDHELD.axisBelowTopM,
    thicknessM: board.thicknessM ?? HANDHELD.thicknessM,
  }
}

/** The focal length to start from, px, for a picture of the given size. */
export function likelyFocalPx(picture: PictureSize): number {
  return (HANDHELD.focal36Mm / 36) * Math.max(picture.widthPx, picture.heightPx)
}

/**
 * How far a pose is from what is believed, each in sd: camera, its place, the board's build, and that both ends land
 * with their lower edge on ground that is level within a few cm.
 *
 * @param pose that the unknowns stand for, within the build's bounds
 * @param unknowns as in `VIEW_UNKNOWNS`, not held within bounds
 * @param board the lengths, m, and what is known of the build
 * @param picture size, px: the principal point is expected in its middle
 * @param into receives `PRIOR_COUNT` numbers from index `at`
 * @param heightM of the camera over the ground, mean and 1 sd, where more is known of it than of any
 */
export function writePriorResiduals(
  pose: SeesawPose,
  unknowns: ArrayLike<number>,
  board: Board,
  picture: PictureSize,
  into: Float64Array,
  at: number,
  heightM: readonly [number, number] = [HANDHELD.heightM, HANDHELD.heightSdM],
): void {
  const longSidePx = Math.max(picture.widthPx, picture.heightPx)
  const build = likelyBuild(board)
  const axisSdM = board.axisBelowTopM === undefined ? HANDHELD.axisSdM : HANDHELD.axisGivenSdM
  const thicknessSdM = board.thicknessM === undefined ? HANDHELD.thicknessSdM : HANDHELD.thicknessGivenSdM
  const { axisBelowTopM, thicknessM } = pose
  const corner = (angleRad: number): number => lowerCornerHeightM(board, axisBelowTopM, thicknessM, angleRad)
  into[at] = Math.log(pose.focalPx / likelyFocalPx(picture)) / HANDHELD.logFocalSd
  into[at + 1] = (pose.principalXPx - picture.widthPx / 2) / (HANDHELD.principalSd * longSidePx)
  into[at + 2] = (pose.principalYPx - picture.heightPx / 2) / (HANDHELD.principalSd * longSidePx)
  into[at + 3] = pose.distortion / HANDHELD.distortionSd
  into[at + 4] = (pose.pitchRad - HANDHELD.pitchRad) / HANDHELD.pitchSdRad
  into[at + 5] = pose.rollRad / HANDHELD.rollSdRad
  into[at + 6] = (pose.heightM - heightM[0]) / heightM[1]
  into[at + 7] = Math.log(pose.distanceM / HANDHELD.distanceM) / HANDHELD.logDistanceSd
  into[at + 8] = Math.atan2(pose.rightM, pose.distanceM) / HANDHELD.azimuthSdRad
  into[at + 9] = (unknowns[indexOf('axisBelowTopM')]! - build.axisBelowTopM) / axisSdM
  into[at + 10] = (unknowns[indexOf('thicknessM')]! - build.thicknessM) / thicknessSdM
  into[at + 11] = corner(pose.restAngleRad) / HANDHELD.groundSdM
  into[at + 12] = corner(pose.groundedAngleRad) / HANDHELD.groundSdM
}

/** True when the unknowns stand for a board that can be built. */
export function isPossibleBuild(unknowns: ArrayLike<number>): boolean {
  const axisM = unknowns[indexOf('axisBelowTopM')]!
  const thicknessM = unknowns[indexOf('thicknessM')]!
  return (
    axisM >= AXIS_RANGE_M[0] &&
    axisM <= AXIS_RANGE_M[1] &&
    thicknessM >= THICKNESS_RANGE_M[0] &&
    thicknessM <= THICKNESS_RANGE_M[1]
  )
}
