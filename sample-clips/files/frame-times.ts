import type { Scenario } from '../scenario.ts'

/** Capture times of the frames, s. */
export function frameTimesS({ camera, durationS }: Scenario): number[] {
  return Array.from({ length: Math.round(durationS * camera.captureHz) }, (_, i) => i / camera.captureHz)
}

/** How much slower than life the stored clip plays. */
export const slowMotionFactor = ({ camera }: Scenario): number => camera.captureHz / camera.fileHz
