import type { Frame } from '../clip/frame.ts'
import { sampleColour } from '../clip/sampling.ts'
import { applyHomography } from '../geometry/homography.ts'
import type { ImagePx, PlankM } from '../geometry/points.ts'
import { median, robustSd } from '../numeric/robust.ts'
import { findColourStep } from './colour-step.ts'
import type { Calibration, SeesawCamera } from './seesaw-camera.ts'
import type { FrameSightings, Sighting } from './sightings.ts'

/** Width of a sharp border in a decoded picture, 1 sd, decoded px. */
const BLUR_PX = 0.7
/** How far a border is looked for on either side of where the calibration puts it, decoded px. */
const REACH_PX = 5
/** How much of either colour is looked at beyond the reach, decoded px. */
const BESIDE_PX = 4
/** A border fainter than this many grey levels, or than four times what it leaves unexplained, is not trusted. */
const LEAST_CONTRAST = 14
/** A long edge is measured in so many pieces. */
const PIECES = 12
const LEAST_COLUMNS = 8
/** What more columns do not average away (compression, texture behind), 1 sd, full-resolution px. */
const PIECE_SD_PX = 0.15
/** A border across the face is a few px long only, 1 sd, full-resolution px. */
const CROSSING_SD_PX = 0.5
/** An edge counts as the outline when at most this share of the calibration's draws says otherwise. */
const DOUBT = 0.02
/** Around the pivot the bracket hides the lower edge, m. */
const BRACKET_M = 0.35

/** A frame to look at. */
export interface SightedFrame {
  readonly frame: Frame
  /** Reference image px to this frame's image px, 3 x 3. */
  readonly frameFromReference: Float64Array
  /** Fair to about 0.01 rad. */
  readonly angleRad: number
  readonly board: FrameSightings['board']
}

/**
 * The near face's long edges and colour borders as one frame shows them, found without any belief about colours.
 *
 * An edge counts only where it is the plank's outline. Where the top face or the underside is seen too, its far edge is
 * the outline, and how that stands against top face and background depends too much on paint and light to be trusted.
 * The ends are left out: a single thing behind them is easily taken for them, while an edge has many columns.
 * Each piece of an edge is a family of its own, so that a piece which is always taken wrongly does not bend the camera.
 *
 * @param calibration rough, off by a few px at most; its draws decide which edge is surely the outline
 * @param sighted the frame with its camera motion and rough angle
 * @returns sightings in reference image px; none where dog, handler or poor contrast hide the plank
 */
export function plankSightings(calibration: Calibration, sighted: SightedFrame): FrameSightings {
  const face = new NearFace(calibration, sighted)
  const { lengthM, contactM } = calibration.basis.board
  const crossings = [contactM, lengthM - contactM].flatMap((alongM) => face.crossing(alongM))
  return {
    board: sighted.board,
    roughAngleRad: sighted.angleRad,
    sightings: [...face.longEdge('upper'), ...face.longEdge('lower'), ...crossings],
  }
}

/** The near face in one frame. */
class NearFace {
  private readonly camera: SeesawCamera
  private readonly sighted: SightedFrame
  /** Size of a decoded px at the plank, m. */
  private readonly pxM: number
  private readonly draws: readonly SeesawCamera[]

  constructor({ best, draws }: Calibration, sighted: SightedFrame) {
    this.camera = best
    this.draws = draws
    this.sighted = sighted
    this.pxM = 1 / (this.pxPerM(best.lengthM / 2) * sighted.frame.view.scale)
  }

  longEdge(edge: 'upper' | 'lower'): Sighting[] {
    const { lengthM, thicknessM } = this.camera
    const pieceM = lengthM / PIECES
    return Array.from({ length: PIECES }, (_, piece) => (piece + 0.5) * pieceM).flatMap((middleM) => {
      if (edge === 'lower' && Math.abs(middleM - lengthM / 2) < BRACKET_M) return []
      if (!this.isOutline(edge, middleM)) return []
      const shifts: number[] = []
      for (let alongM = middleM - 0.45 * pieceM; alongM < middleM + 0.45 * pieceM; alongM += 2 * this.pxM) {
        const shiftM = this.edgeShiftM(edge, alongM)
        if (shiftM !== null) shifts.push(shiftM)
      }
      if (shifts.length < LEAST_COLUMNS) return []
      const aboveM = (edge === 'upper' ? 0 : -thicknessM) + median(shifts)
      const image = this.at(middleM, aboveM)
      // Neighbouring columns see the same pixels and the same things behind: about one in three is news.
      const spreadPx = (robustSd(shifts) * this.pxPerM(middleM)) / Math.sqrt(shifts.length / 3)
      return [
        {
          family: `${edge} edge at ${middleM.toFixed(2)} m`,
          alongM: middleM,
          edge,
          image,
          normal: normalTo(image, this.at(middleM + 0.01, aboveM)),
          sdPx: Math.hypot(PIECE_SD_PX, 1.25 * spreadPx),
        },
      ]
    })
  }

  /** A colour border across the near face. */
  crossing(alongM: number): Sighting[] {
    const { thicknessM } = this.camera
    const shifts = [-0.25, -0.4, -0.6, -0.75].flatMap((share) => {
      const found = this.step(alongM, (place) => this.at(place, share * thicknessM))
      return found === null ? [] : [found]
    })
    if (shifts.length < 4 || robustSd(shifts) > this.pxM) return []
    const place = alongM + median(shifts)
    const spreadPx = robustSd(shifts) * this.pxPerM(alongM)
    const image = this.at(place, 0)
    return [
      {
        family: `border at ${alongM.toFixed(2)} m`,
        alongM,
        edge: 'upper',
        image,
        normal: normalTo(image, this.at(place, -thicknessM)),
        sdPx: Math.hypot(CROSSING_SD_PX, spreadPx),
      },
    ]
  }

  private edgeShiftM(edge: 'upper' | 'lower', alongM: number): number | null {
    const { thicknessM } = this.camera
    const edgeM = edge === 'upper' ? 0 : -thicknessM
    // Not past the face's middle, where the other edge's blur would come in.
    const inside = Math.min(thicknessM / 2, (REACH_PX + BESIDE_PX) * this.pxM)
    return this.step(edgeM, (aboveM) => this.at(alongM, aboveM), edge === 'upper' ? [-inside, 1] : [-1, inside])
  }

  /**
   * How far a border lies beyond its expected place on a line through it, m; null where it is not clear.
   *
   * @param room how far the line may run below and above the border, m; beyond 1 m the usual reach decides
   */
  private step(
    expectedM: number,
    imageOf: (placeM: number) => ImagePx,
    room: readonly [number, number] = [-1, 1],
  ): number | null {
    const reachM = (REACH_PX + BESIDE_PX) * this.pxM
    const from = Math.max(room[0], -reachM)
    const count = Math.floor((Math.min(room[1], reachM) - from) / (0.5 * this.pxM))
    const places = Float64Array.from({ length: count }, (_, k) => expectedM + from + k * 0.5 * this.pxM)
    const colours = new Float32Array(3 * count)
    const { frame, frameFromReference } = this.sighted
    for (let k = 0; k < count; k++) {
      const { xPx, yPx } = imageOf(places[k]!)
      const [x, y] = applyHomography(frameFromReference, xPx, yPx)
      if (!sampleColour(frame, x, y, colours, 3 * k)) return null
    }
    const found = findColourStep(places, colours, expectedM, BLUR_PX * this.pxM, REACH_PX * this.pxM)
    if (found === null || found.contrast < Math.max(LEAST_CONTRAST, 4 * found.misfit)) return null
    return found.shift
  }

  /** Whether the near edge hides the same face's far edge, by at least a third of a px, in nearly all draws. */
  private isOutline(edge: 'upper' | 'lower', alongM: number): boolean {
    const seen = this.draws.filter((draw) => farEdgeOutsideM(draw, edge, alongM, this.sighted.angleRad) > -this.pxM / 3)
    return seen.length <= DOUBT * this.draws.length
  }

  private at(alongM: number, aboveM: number): ImagePx {
    return this.camera.imageFromPlank({ alongM, aboveM, acrossM: 0 }, this.sighted.angleRad)
  }

  private pxPerM(alongM: number): number {
    const here = this.at(alongM - 0.05, 0)
    const there = this.at(alongM + 0.05, 0)
    return Math.hypot(there.xPx - here.xPx, there.yPx - here.yPx) / 0.1
  }
}

/** How far outside the near edge the same face's far edge appears, m: negative where the near face hides it. */
function farEdgeOutsideM(camera: SeesawCamera, edge: 'upper' | 'lower', alongM: number, angleRad: number): number {
  const edgeM = edge === 'upper' ? 0 : -camera.thicknessM
  const onNearPlane = (place: number): PlankM => {
    const far = { alongM: place, aboveM: edgeM, acrossM: camera.widthM }
    return camera.plankFromImage(camera.imageFromPlank(far, angleRad), angleRad, 0)
  }
  const entry = onNearPlane(0)
  const exit = onNearPlane(camera.lengthM)
  const share = (alongM - entry.alongM) / (exit.alongM - entry.alongM)
  const outside = entry.aboveM + share * (exit.aboveM - entry.aboveM) - edgeM
  return edge === 'upper' ? outside : -outside
}

/** The unit vector perpendicular to the way from one image point to another. */
function normalTo(from: ImagePx, to: ImagePx): { x: number; y: number } {
  const dx = to.xPx - from.xPx
  const dy = to.yPx - from.yPx
  const length = Math.hypot(dx, dy)
  return { x: -dy / length, y: dx / length }
}
