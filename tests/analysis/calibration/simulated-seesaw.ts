import type { Board } from '../../../analysis/board/board.ts'
import type { Marks } from '../../../analysis/board/marks.ts'
import { landingAngleRad } from '../../../analysis/calibration/landing-angle.ts'
import { PinholeSeesaw, type SeesawPose } from '../../../analysis/calibration/pinhole-seesaw.ts'
import type { PictureSize } from '../../../analysis/calibration/seesaw-camera.ts'
import type { FrameSightings, Sighting } from '../../../analysis/calibration/sightings.ts'
import type { ImagePx } from '../../../analysis/geometry/points.ts'
import type { Random } from '../../../analysis/numeric/random.ts'

/** A seesaw, the camera that films it and what a person would click: the truth that a calibration must find again. */
export interface SimulatedSeesaw {
  readonly board: Board
  readonly picture: PictureSize
  readonly truth: PinholeSeesaw
  readonly marks: Marks
}

export const BOARD: Board = { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.914 }
const degrees = Math.PI / 180

/** A camera at pivot height straight beside the pivot: 1000 px focal length, 5 m away, level, no distortion. */
export function frontalPose(changes: Partial<SeesawPose> = {}): SeesawPose {
  const landing = landingAngleRad(BOARD, 0.045, 0.04)
  return {
    focalPx: 1000,
    principalXPx: 640,
    principalYPx: 360,
    distortion: 0,
    yawRad: 0,
    pitchRad: 0,
    rollRad: 0,
    rightM: 0,
    heightM: 0.61,
    distanceM: 5,
    restAngleRad: -landing,
    groundedAngleRad: landing,
    axisBelowTopM: 0.045,
    thicknessM: 0.04,
    ...changes,
  }
}

/** What a person with the given click noise marks; noise 0 gives the exact points. */
export function clickedMarks(truth: PinholeSeesaw, board: Board, clickSdPx: number, random: Random): Marks {
  const click = (alongM: number, angleRad: number): ImagePx => {
    const { xPx, yPx } = truth.imageFromPlank({ alongM, aboveM: 0, acrossM: 0 }, angleRad)
    return { xPx: xPx + clickSdPx * random.normal(), yPx: yPx + clickSdPx * random.normal() }
  }
  const rest = truth.restAngleRad
  const landed = truth.groundedAngleRad
  const { lengthM, contactM } = board
  return {
    clip: 'simulated.mp4',
    rest: {
      frame: 8,
      entryEnd: click(0, rest),
      exitEnd: click(lengthM, rest),
      pivot: click(lengthM / 2, rest),
      upContactEdge: click(contactM, rest),
      downContactEdge: click(lengthM - contactM, rest),
    },
    grounded: { frame: 90, entryEnd: click(0, landed), exitEnd: click(lengthM, landed) },
  }
}

/**
 * A plausible clip: ordinary boards and phones, handheld, up to 25 deg from straight beside, uneven ground, mild lens
 * distortion, clicks with 1.5 px noise. Redrawn until the whole swing lies in the picture.
 */
export function simulatedSeesaw(random: Random): SimulatedSeesaw {
  const between = (low: number, high: number): number => low + (high - low) * random.uniform()
  for (;;) {
    const board = { ...BOARD, pivotHeightM: between(0.6, 0.68) }
    const picture = random.uniform() < 0.5 ? { widthPx: 1280, heightPx: 720 } : { widthPx: 1920, heightPx: 1080 }
    const axisBelowTopM = between(0, 0.08)
    const thicknessM = between(0.025, 0.055)
    const landing = (): number => {
      const pivotHeightM = board.pivotHeightM + 0.012 * random.normal()
      return landingAngleRad({ ...board, pivotHeightM }, axisBelowTopM, thicknessM)
    }
    const focalPx = (between(24, 42) / 36) * picture.widthPx
    const distanceM = ((focalPx * board.lengthM) / picture.widthPx) * between(1.1, 1.9)
    const heightM = between(0.6, 1.6)
    const rightM = distanceM * Math.tan(between(-25, 25) * degrees)
    const pose: SeesawPose = {
      focalPx,
      principalXPx: picture.widthPx / 2 + 0.005 * picture.widthPx * random.normal(),
      principalYPx: picture.heightPx / 2 + 0.005 * picture.widthPx * random.normal(),
      distortion: 0.015 * random.normal(),
      yawRad: -Math.atan((rightM - between(-0.4, 0.4)) / distanceM),
      pitchRad: -Math.atan((heightM - between(0.3, 0.9)) / Math.hypot(distanceM, rightM)),
      rollRad: 1.5 * degrees * random.normal(),
      rightM,
      heightM,
      distanceM,
      restAngleRad: -landing(),
      groundedAngleRad: landing(),
      axisBelowTopM,
      thicknessM,
    }
    const truth = new PinholeSeesaw(pose, board, random.uniform() < 0.5 ? 1 : -1)
    const marks = clickedMarks(truth, board, 1.5, random)
    const corners = [marks.rest.entryEnd, marks.rest.exitEnd, marks.grounded!.entryEnd, marks.grounded!.exitEnd]
    const inside = corners.every(
      ({ xPx, yPx }) => xPx > 0 && yPx > 0 && xPx < picture.widthPx && yPx < picture.heightPx,
    )
    if (inside) return { board, picture, truth, marks }
  }
}

/**
 * What a tracker finds of both long edges, and if asked of the near top corners at both ends, in frames from rest to
 * landing: noise of 0.2 px, a constant offset of each feature of about 0.7 px, a common shift of each frame of about
 * 0.2 px.
 */
export function trackedBoard(
  { board, truth }: SimulatedSeesaw,
  random: Random,
  features: 'edges' | 'edges and ends',
): FrameSightings[] {
  const offsetsPx = { upper: 0.7 * random.normal(), lower: 0.7 * random.normal() }
  const endOffsetsPx = [0, 0, 0, 0].map(() => 0.7 * random.normal())
  const { restAngleRad, groundedAngleRad } = truth
  return Array.from({ length: 16 }, (_, k): FrameSightings => {
    const state = k < 2 ? 'rest' : k > 13 ? 'grounded' : 'moving'
    const share = state === 'rest' ? 0 : state === 'grounded' ? 1 : (k - 1) / 13
    const angleRad = restAngleRad + share * (groundedAngleRad - restAngleRad)
    const xShiftPx = 0.2 * random.normal()
    const yShiftPx = 0.2 * random.normal()
    const sightings = (['upper', 'lower'] as const).flatMap((edge) =>
      [0.1, 0.35, 0.65, 0.9].map((place): Sighting => {
        const alongM = place * board.lengthM
        const aboveM = edge === 'upper' ? 0 : -truth.thicknessM
        const here = truth.imageFromPlank({ alongM, aboveM, acrossM: 0 }, angleRad)
        const next = truth.imageFromPlank({ alongM: alongM + 0.01, aboveM, acrossM: 0 }, angleRad)
        const length = Math.hypot(next.xPx - here.xPx, next.yPx - here.yPx)
        const normal = { x: (here.yPx - next.yPx) / length, y: (next.xPx - here.xPx) / length }
        const offPx = offsetsPx[edge] + 0.2 * random.normal()
        const image = {
          xPx: here.xPx + xShiftPx + offPx * normal.x,
          yPx: here.yPx + yShiftPx + offPx * normal.y,
        }
        return { family: `${edge} edge`, alongM, edge, image, normal, sdPx: 0.2 }
      }),
    )
    const ends = [0, board.lengthM].map((alongM, end): Sighting => {
      const { xPx, yPx } = truth.imageFromPlank({ alongM, aboveM: 0, acrossM: 0 }, angleRad)
      const image = {
        xPx: xPx + xShiftPx + endOffsetsPx[2 * end]! + 0.2 * random.normal(),
        yPx: yPx + yShiftPx + endOffsetsPx[2 * end + 1]! + 0.2 * random.normal(),
      }
      return { family: end === 0 ? 'entry end' : 'exit end', alongM, edge: 'upper', image, sdPx: 0.2 }
    })
    const all = features === 'edges' ? sightings : [...sightings, ...ends]
    return { board: state, roughAngleRad: angleRad + 0.01 * random.normal(), sightings: all }
  })
}
