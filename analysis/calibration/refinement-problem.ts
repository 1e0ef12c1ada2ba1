import type { LeastSquaresProblem } from '../numeric/least-squares.ts'
import { type CalibrationProblem } from './calibration-problem.ts'
import type { PinholeSeesaw } from './pinhole-seesaw.ts'
import type { FrameSightings, RefineOptions, Sighting } from './sightings.ts'
import { indexOf } from './view-unknowns.ts'

/** Residuals beyond this many sd count less and less; 95 % efficient for normal noise (Holland and Welsch, 1977). */
const KNEE_SD = 2.385
const DEFAULT_FAMILY_OFFSET_PX = 1
const DEFAULT_FRAME_SHIFT_PX = 0.3

/**
 * Clicks, priors and sightings as one sum of squares. Unknowns: those of the calibration; then, for each family, how
 * far its feature lies off along and above (in sd); then, for each frame, its shift in x and y (in sd) and, while the
 * board moves, its angle (rad).
 */
export class RefinementProblem implements LeastSquaresProblem {
  readonly clicks: CalibrationProblem
  readonly residualCount: number
  readonly typical: Float64Array
  /** All sightings' sds are multiplied by this. */
  noiseFactor = 1
  private readonly frames: readonly FrameSightings[]
  private readonly families: readonly string[]
  private readonly offsetSdM: number
  private readonly shiftSdPx: number
  /** Index of each frame's first unknown. */
  private readonly frameStarts: readonly number[]
  private readonly sightingsStart: number

  constructor(clicks: CalibrationProblem, frames: readonly FrameSightings[], pxPerM: number, options: RefineOptions) {
    this.clicks = clicks
    this.frames = frames
    this.families = [...new Set(frames.flatMap(({ sightings }) => sightings.map(({ family }) => family)))]
    this.offsetSdM = (options.familyOffsetSdPx ?? DEFAULT_FAMILY_OFFSET_PX) / pxPerM
    this.shiftSdPx = options.frameShiftSdPx ?? DEFAULT_FRAME_SHIFT_PX
    const typical = [...clicks.typicalChanges(), ...this.families.flatMap(() => [0.3, 0.3])]
    this.frameStarts = frames.map(({ board }) => {
      const start = typical.length
      typical.push(0.3, 0.3)
      if (board === 'moving') typical.push(0.004)
      return start
    })
    this.typical = Float64Array.from(typical)
    this.sightingsStart = clicks.residualCount + 2 * this.families.length + 2 * frames.length
    this.residualCount = frames.reduce(
      (sum, { sightings }) => sightings.reduce((inner, { normal }) => inner + (normal ? 1 : 2), sum),
      this.sightingsStart,
    )
  }

  /** The unknowns to start from: the clicks' solution, no offsets, the rough angles. */
  start(clicksSolution: Float64Array): Float64Array {
    const start = new Float64Array(this.typical.length)
    start.set(clicksSolution)
    this.frames.forEach(({ board, roughAngleRad }, k) => {
      if (board === 'moving') start[this.frameStarts[k]! + 2] = roughAngleRad
    })
    return start
  }

  residuals(unknowns: Float64Array, into: Float64Array): void {
    const { clicks, families, frames } = this
    clicks.writeResiduals(unknowns, into)
    let at = clicks.residualCount
    const offsetsStart = clicks.unknownCount
    for (let k = 0; k < 2 * families.length; k++) into[at++] = unknowns[offsetsStart + k]!
    for (const start of this.frameStarts) {
      into[at++] = unknowns[start]!
      into[at++] = unknowns[start + 1]!
    }
    const camera = clicks.camera(unknowns)
    frames.forEach(({ board, sightings }, k) => {
      const start = this.frameStarts[k]!
      const angleRad =
        board === 'rest' ? camera.restAngleRad : board === 'grounded' ? camera.groundedAngleRad : unknowns[start + 2]!
      for (const sighting of sightings) {
        const [dx, dy] = this.misfit(camera, sighting, angleRad, start, unknowns)
        const sdPx = sighting.sdPx * this.noiseFactor
        if (sighting.normal === undefined) {
          into[at++] = softened(dx / sdPx)
          into[at++] = softened(dy / sdPx)
        } else {
          into[at++] = softened((dx * sighting.normal.x + dy * sighting.normal.y) / sdPx)
        }
      }
    })
  }

  /** The factor by which the sightings are noisier than they claim, from the spread of their residuals: at least 1. */
  noiseFactorFrom(residuals: Float64Array): number {
    const sightings = residuals.subarray(this.sightingsStart)
    const moving = this.frames.filter(({ board }) => board === 'moving').length
    const free = sightings.length - moving - indexOf('thicknessM') - 1
    if (free < 10) return 1
    const squares = sightings.reduce((sum, residual) => sum + residual ** 2, 0)
    return Math.max(1, Math.sqrt(squares / free) * this.noiseFactor)
  }

  private misfit(
    camera: PinholeSeesaw,
    sighting: Sighting,
    angleRad: number,
    frameStart: number,
    unknowns: Float64Array,
  ): readonly [number, number] {
    const family = this.clicks.unknownCount + 2 * this.families.indexOf(sighting.family)
    const surfaceM = sighting.edge === 'upper' ? 0 : -camera.thicknessM
    const { xPx, yPx } = camera.imageFromPlank(
      {
        alongM: sighting.alongM + this.offsetSdM * unknowns[family]!,
        aboveM: surfaceM + this.offsetSdM * unknowns[family + 1]!,
        acrossM: sighting.acrossM ?? 0,
      },
      angleRad,
    )
    return [
      xPx + this.shiftSdPx * unknowns[frameStart]! - sighting.image.xPx,
      yPx + this.shiftSdPx * unknowns[frameStart + 1]! - sighting.image.yPx,
    ]
  }
}

/** Cauchy's loss as a residual: a sighting far off, taken from something else, hardly pulls at all. */
function softened(residualSd: number): number {
  const share = residualSd / KNEE_SD
  return Math.sign(residualSd) * KNEE_SD * Math.sqrt(Math.log1p(share * share))
}
