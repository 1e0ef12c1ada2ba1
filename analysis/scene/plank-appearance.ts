import { mapImage } from '../camera/camera-motion.ts'
import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import { sampleColour } from '../clip/sampling.ts'
import { median } from '../numeric/robust.ts'
import type { Still } from './background.ts'
import { plankOutline } from './plank-outline.ts'

/** Colours Y, U, V along one visible face of the plank, one triple a bin; NaN where the face is too thin to be seen. */
export type FaceColours = Float32Array

/** What the plank looks like: near face, and top and underside with the entry end down and with the exit end down. */
export interface PlankAppearance {
  readonly binM: number
  readonly near: FaceColours
  readonly topAtRest: FaceColours
  readonly topGrounded: FaceColours
  readonly belowAtRest: FaceColours
  readonly belowGrounded: FaceColours
}

const BIN_M = 0.01

/**
 * Learns the plank's colours from stills whose angle is known, as the median over stills and over the face's height.
 *
 * @param camera calibrated; @param stills with `angleRad` not null
 * @param pxM size of a decoded pixel at the plank, m
 * @returns each face's colours, NaN where it was too thin to be seen
 */
export function learnPlank(camera: SeesawCamera, stills: readonly Still[], pxM: number): PlankAppearance {
  const middle = (camera.restAngleRad + camera.groundedAngleRad) / 2
  const rest = stills.filter((s) => s.angleRad !== null && s.angleRad < middle)
  const grounded = stills.filter((s) => s.angleRad !== null && s.angleRad >= middle)
  const inset = 1.2 * pxM
  const face = (
    group: readonly Still[],
    fromM: (end: 0 | 1, still: Still) => number,
    toM: (end: 0 | 1, still: Still) => number,
  ) => faceColours(camera, group, pxM, fromM, toM)
  const t = camera.thicknessM
  const outlineOf = (s: Still) => plankOutline(camera, s.angleRad!)
  const top = (group: readonly Still[]) =>
    face(
      group,
      () => inset,
      (end, s) => outlineOf(s).farTopM[end] - inset,
    )
  const below = (group: readonly Still[]) =>
    face(
      group,
      (end, s) => outlineOf(s).bottomM[end] + inset,
      () => -t - inset,
    )
  return {
    binM: BIN_M,
    near: face(
      [...rest, ...grounded],
      () => -t + inset,
      () => -inset,
    ),
    topAtRest: top(rest),
    topGrounded: top(grounded),
    belowAtRest: below(rest),
    belowGrounded: below(grounded),
  }
}

function faceColours(
  camera: SeesawCamera,
  stills: readonly Still[],
  pxM: number,
  fromM: (end: 0 | 1, still: Still) => number,
  toM: (end: 0 | 1, still: Still) => number,
): FaceColours {
  const bins = Math.ceil(camera.lengthM / BIN_M)
  const out = new Float32Array(3 * bins).fill(NaN)
  const limits = stills.map((s) => ({
    from: [fromM(0, s), fromM(1, s)] as const,
    to: [toM(0, s), toM(1, s)] as const,
  }))
  const colour = new Float32Array(3)
  for (let bin = 0; bin < bins; bin++) {
    const alongM = (bin + 0.5) * BIN_M
    const share = alongM / camera.lengthM
    const got: [number[], number[], number[]] = [[], [], []]
    stills.forEach((still, k) => {
      const { from, to } = limits[k]!
      const low = from[0] + share * (from[1] - from[0])
      const high = to[0] + share * (to[1] - to[0])
      for (let aboveM = low; aboveM <= high; aboveM += 0.7 * pxM) {
        const p = camera.imageFromPlank({ alongM, aboveM, acrossM: 0 }, still.angleRad!)
        const q = mapImage(still.frameFromReference, p)
        if (!sampleColour(still.frame, q.xPx, q.yPx, colour, 0)) continue
        got[0].push(colour[0]! / still.gain)
        got[1].push(colour[1]!)
        got[2].push(colour[2]!)
      }
    })
    if (got[0].length > 0) for (let c = 0; c < 3; c++) out[3 * bin + c] = median(got[c]!)
  }
  return out
}
