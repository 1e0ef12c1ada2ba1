import { leastSquares } from '../numeric/least-squares.ts'
import { calibrationOf } from './calibration-of-fit.ts'
import { CalibrationProblem } from './calibration-problem.ts'
import { RefinementProblem } from './refinement-problem.ts'
import type { Calibration } from './seesaw-camera.ts'
import type { FrameSightings, RefineOptions } from './sightings.ts'

/** A frame with fewer sightings says little beyond its own angle and shift. */
const LEAST_SIGHTINGS = 3

/**
 * The calibration made sharper by what was tracked in the clip's frames: a bundle adjustment of clicks, priors and
 * sightings, with each frame's angle and small shift and each family's constant offset as further unknowns.
 *
 * The arcs of edges and ends while the board swings tell yaw, scale and the depth of the axis better than clicks do.
 * Absolute level stays what the ground under both ends says. If the sightings scatter more than their sds, all their
 * sds are raised by the common factor that explains it (Birge, Phys. Rev. 40, 1932).
 *
 * @param calibration from `calibrate`
 * @param frames up to about 60, spread over the swing; with rest and grounded frames if there are
 * @param options how far trackers may be off by a constant, how steady the frames are
 * @returns a new calibration with the same basis; the old one when no frame has three sightings
 */
export function refineCalibration(
  calibration: Calibration,
  frames: readonly FrameSightings[],
  options: RefineOptions = {},
): Calibration {
  const useful = frames.filter(({ sightings }) => sightings.length >= LEAST_SIGHTINGS)
  if (useful.length === 0) return calibration
  const clicks = new CalibrationProblem(calibration.basis)
  const clicked = clicks.solve()
  const camera = clicks.camera(clicked.parameters)
  const left = camera.imageFromPlank({ alongM: 0, aboveM: 0, acrossM: 0 }, 0)
  const right = camera.imageFromPlank({ alongM: camera.lengthM, aboveM: 0, acrossM: 0 }, 0)
  const pxPerM = Math.hypot(right.xPx - left.xPx, right.yPx - left.yPx) / camera.lengthM
  const problem = new RefinementProblem(clicks, useful, pxPerM, options)
  let fit = leastSquares(problem, problem.start(clicked.parameters), { maxIterations: 40, tolerance: 1e-5 })
  // Wild values count less while the noise is thought small, so its measure settles in a few rounds.
  for (let round = 0; round < 4; round++) {
    const factor = problem.noiseFactorFrom(fit.residuals)
    if (factor <= 1.02 * problem.noiseFactor) break
    problem.noiseFactor = factor
    fit = leastSquares(problem, fit.parameters, { maxIterations: 40, tolerance: 1e-5 })
  }
  return calibrationOf(clicks, fit)
}
