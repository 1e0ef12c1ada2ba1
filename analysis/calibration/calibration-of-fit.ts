import type { LeastSquaresFit } from '../numeric/least-squares.ts'
import type { CalibrationProblem } from './calibration-problem.ts'
import { posteriorDraws } from './posterior.ts'
import { isPossibleBuild } from './pose-priors.ts'
import type { Calibration } from './seesaw-camera.ts'

/**
 * The calibration that a fit stands for: best camera, draws of the posterior around it, and how well the clicks fit.
 *
 * @param problem the clicks
 * @param fit whose first unknowns are the problem's; more may follow, they are drawn along and then left out
 */
export function calibrationOf(problem: CalibrationProblem, fit: LeastSquaresFit): Calibration {
  const { drawCount = 64, seed = 1 } = problem.basis.options
  const draws = posteriorDraws(fit, drawCount, seed, isPossibleBuild)
  const best = problem.camera(fit.parameters)
  let squares = 0
  let worst: Calibration['worst'] = { point: problem.points[0]!, misfitPx: -1 }
  for (const point of problem.points) {
    const [xPx, yPx] = problem.predicted(best, point, fit.parameters)
    const misfitPx = Math.hypot(xPx - point.image.xPx, yPx - point.image.yPx)
    squares += misfitPx ** 2
    if (misfitPx > worst.misfitPx) worst = { point: { name: point.name, when: point.when }, misfitPx }
  }
  return {
    best,
    draws: draws.map((unknowns) => problem.camera(unknowns)),
    misfitPx: Math.sqrt(squares / problem.points.length),
    worst,
    basis: problem.basis,
  }
}
