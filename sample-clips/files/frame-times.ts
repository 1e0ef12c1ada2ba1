import type { CameraSpec, Scenario } from '../scenario.ts'

/** Times in the file are whole numbers of this, s. */
const TICK_S = 1 / 90_000

/** Capture times of the frames, s. */
export function frameTimesS({ camera, durationS }: Scenario): number[] {
  return Array.from({ length: Math.round(durationS * camera.captureHz) }, (_, i) => {
    if (!camera.variableRate) return i / camera.captureHz
    return Math.round((i + 0.3 * Math.sin(1.9 * i)) / (camera.captureHz * TICK_S)) * TICK_S
  })
}

/** The times of `frameTimesS` for a variable rate, as an encoder's filters that give them to evenly timed frames. */
export const unevenTimesFilters = ({ fileHz }: CameraSpec): string[] => [
  'settb=1/90000',
  `setpts='round((N+0.3*sin(1.9*N))/(${fileHz}*TB))'`,
]

/** How much slower than life the stored clip plays. */
export const slowMotionFactor = (camera: CameraSpec): number => camera.captureHz / camera.fileHz
