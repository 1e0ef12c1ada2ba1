/**
 * What no fit can beat when an event is timed from frames, 1 sd, s.
 *
 * Half a millisecond for timestamps that containers round, and 3 % of a frame for exposures that do not all sit at the
 * same place in their frame. From experience with such files, no source.
 *
 * @param frameS time from one frame to the next, s
 * @returns s
 * @example timingFloorS(0.04) // 0.0013
 */
export function timingFloorS(frameS: number): number {
  return Math.hypot(0.0005, 0.03 * frameS)
}
