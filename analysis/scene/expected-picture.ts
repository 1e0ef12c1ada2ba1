import type { PlankAppearance, FaceColours } from './plank-appearance.ts'
import { plankOutline, type PlankOutline } from './plank-outline.ts'
import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { Background } from './background.ts'

/**
 * What the seesaw should look like without a dog, at one board angle: plank faces over the background, edges blurred
 * like the picture.
 */
export class ExpectedPicture {
  readonly angleRad: number
  readonly outline: PlankOutline
  readonly #background: Background
  readonly #appearance: PlankAppearance
  readonly #topAtEntryM: number
  readonly #topSlope: number
  readonly #bottomAtEntryM: number
  readonly #bottomSlope: number
  readonly #lengthM: number
  readonly #thicknessM: number
  readonly #blurM: number
  readonly #fall: number
  readonly #map: Float64Array
  readonly #behind = new Float32Array(4)

  /**
   * @param angleRad board angle; @param blurM 1 sd of the picture's blur across an edge, m
   */
  constructor(
    camera: SeesawCamera,
    background: Background,
    appearance: PlankAppearance,
    angleRad: number,
    blurM: number,
  ) {
    this.angleRad = angleRad
    this.outline = plankOutline(camera, angleRad)
    const { farTopM, bottomM } = this.outline
    this.#topAtEntryM = farTopM[0]
    this.#topSlope = (farTopM[1] - farTopM[0]) / camera.lengthM
    this.#bottomAtEntryM = bottomM[0]
    this.#bottomSlope = (bottomM[1] - bottomM[0]) / camera.lengthM
    this.#background = background
    this.#appearance = appearance
    this.#lengthM = camera.lengthM
    this.#thicknessM = camera.thicknessM
    this.#blurM = blurM
    this.#map = camera.homographyAt(angleRad, 0)
    const swing = camera.groundedAngleRad - camera.restAngleRad
    this.#fall = Math.min(1, Math.max(0, (angleRad - camera.restAngleRad) / swing))
  }

  /** Height of the outline's upper edge at a place along the plank, m in the near edge's plane. */
  topM(alongM: number): number {
    return Math.max(0, this.#topAtEntryM + this.#topSlope * alongM)
  }

  /** Height of the outline's lower edge, m in the near edge's plane (negative). */
  bottomM(alongM: number): number {
    return this.#bottomAtEntryM + this.#bottomSlope * alongM
  }

  /**
   * Expected colour at a point of the near edge's plane, and how it changes if the plank were a little higher.
   *
   * @param out seven numbers from `at` on: Y, U, V, spread of Y, then dY, dU, dV per m of upward shift of the plank;
   * NaN where the background is unknown
   */
  sample(alongM: number, aboveM: number, out: Float32Array, at: number): void {
    const top = this.topM(alongM)
    const bottom = this.bottomM(alongM)
    const blur = this.#blurM
    const isBeside = alongM < 0 || alongM > this.#lengthM
    if (isBeside || aboveM > top + STEP_SD * blur || aboveM < bottom - STEP_SD * blur) {
      this.#sampleBehind(alongM, aboveM, out, at)
      out[at + 4] = out[at + 5] = out[at + 6] = 0
      return
    }
    const overTop = step((aboveM - top) / blur)
    const overBottom = step((aboveM - bottom) / blur)
    const cover = overBottom * (1 - overTop)
    const behind = this.#behind
    const isAllPlank = cover > 0.999
    if (isAllPlank) behind.fill(0)
    else this.#sampleBehind(alongM, aboveM, behind, 0)
    const overNear = top > 0 ? step(aboveM / blur) : 0
    const underNear = bottom < -this.#thicknessM - 1e-6 ? 1 - step((aboveM + this.#thicknessM) / blur) : 0
    // Raising the plank uncovers at its lower edge and covers at its upper edge.
    const kernel = isAllPlank ? 0 : (slope(overTop) - slope(overBottom)) / blur
    const kernelNear = slope(overNear) / blur
    const faces = this.#appearance
    const last = faces.near.length / 3 - 1
    const place = Math.min(Math.max(0, alongM / faces.binM - 0.5), last - 1e-6)
    const bin = Math.floor(place)
    const between = place - bin
    for (let c = 0; c < 3; c++) {
      const i = 3 * bin + c
      const near = faces.near[i]! + between * (faces.near[i + 3]! - faces.near[i]!)
      let plank = near
      let gradient = 0
      if (overNear > 0) {
        const topColour = blend(faces.topAtRest, faces.topGrounded, i, between, this.#fall, near)
        plank += overNear * (topColour - near)
        gradient -= kernelNear * (topColour - near)
      }
      if (underNear > 0) {
        plank += underNear * (blend(faces.belowAtRest, faces.belowGrounded, i, between, this.#fall, near) - near)
      }
      out[at + c] = cover * plank + (1 - cover) * behind[c]!
      out[at + 4 + c] = gradient + kernel * (plank - behind[c]!)
    }
    out[at + 3] = behind[3]!
  }

  /** What is behind a point of the near edge's plane: Y, U, V, spread. */
  #sampleBehind(alongM: number, aboveM: number, out: Float32Array, at: number): void {
    const m = this.#map
    const w = m[6]! * alongM + m[7]! * aboveM + m[8]!
    this.#background.sample(
      (m[0]! * alongM + m[1]! * aboveM + m[2]!) / w,
      (m[3]! * alongM + m[4]! * aboveM + m[5]!) / w,
      out,
      at,
    )
  }
}

/** Colour of a face between two bins and its two known lightings; the near face's where it was never seen. */
function blend(
  atRest: FaceColours,
  grounded: FaceColours,
  i: number,
  between: number,
  fall: number,
  otherwise: number,
): number {
  const a = atRest[i]! + between * (atRest[i + 3]! - atRest[i]!)
  const b = grounded[i]! + between * (grounded[i + 3]! - grounded[i]!)
  if (Number.isNaN(a)) return Number.isNaN(b) ? otherwise : b
  return Number.isNaN(b) ? a : a + fall * (b - a)
}

/** Beyond so many sd of blur an edge is over. */
const STEP_SD = 3

/** Smooth step close to the normal distribution function. */
function step(z: number): number {
  if (z > STEP_SD) return 1
  if (z < -STEP_SD) return 0
  return 1 / (1 + Math.exp(-1.702 * z))
}

/** How steep the step is where it has risen to `share`, per sd of blur. */
function slope(share: number): number {
  return 1.702 * share * (1 - share)
}
