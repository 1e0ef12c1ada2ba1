import type { Calibration } from '../../analysis/calibration/seesaw-camera.ts'

/** How far off all angles may be together, from the calibration's draws. */
export interface AngleUncertainty {
  /** Common shift of all angles, 1 sd, rad. */
  readonly commonSdRad: number
  /** Relative error of the swing, 1 sd. */
  readonly scaleSd: number
}

/** The spread of the middle and of the width of the swing over a calibration's draws. */
export function angleUncertainty({ best, draws }: Calibration): AngleUncertainty {
  const spread = (of: (camera: typeof best) => number): number => {
    const centre = of(best)
    return Math.sqrt(draws.reduce((sum, camera) => sum + (of(camera) - centre) ** 2, 0) / draws.length)
  }
  const swing = best.groundedAngleRad - best.restAngleRad
  return {
    commonSdRad: spread((camera) => (camera.groundedAngleRad + camera.restAngleRad) / 2),
    scaleSd: spread((camera) => camera.groundedAngleRad - camera.restAngleRad) / swing,
  }
}
