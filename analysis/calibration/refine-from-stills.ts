import { plankSightings, type SightedFrame } from './plank-sightings.ts'
import { refineCalibration } from './refine-calibration.ts'
import type { Calibration } from './seesaw-camera.ts'
import type { RefineOptions } from './sightings.ts'

/** Frames of one board position see the same things behind it and share their errors: a few of all positions tell all. */
const OTHER_FRAMES = 12
/** How far a piece of an edge may constantly seem off, 1 sd, px: chamfers, dirt, reflected light. */
const PIECE_OFFSET_SD_PX = 0.5
/** The second round looks where the first one has put the plank. */
const ROUNDS = 2

/** A decoded frame with the camera's motion and the board's rough angle. */
export type AngledStill = Omit<SightedFrame, 'board'>

/**
 * The calibration refined with what some of the clip's frames show of the plank's near face.
 *
 * Only the marked frames themselves count as the board at rest and grounded: a board that has just begun to tip or
 * springs back stands close to either and yet elsewhere.
 *
 * @param calibration from `calibrate`, the grounded marks carried to the rest marks' frame
 * @param stills frames spread over the clip, best with both marked frames; angles in rad, fair to about 0.01
 * @param options how far trackers may be off by a constant, how steady the frames are
 * @returns the refined calibration; the old one when no frame shows the plank clearly
 */
export function refineFromStills(
  calibration: Calibration,
  stills: readonly AngledStill[],
  options: RefineOptions = { familyOffsetSdPx: PIECE_OFFSET_SD_PX },
): Calibration {
  const { rest, grounded } = calibration.basis.marks
  const stateOf = ({ frame }: AngledStill): SightedFrame['board'] =>
    frame.index === rest.frame ? 'rest' : frame.index === grounded?.frame ? 'grounded' : 'moving'
  const marked = stills.filter((still) => stateOf(still) !== 'moving')
  const others = stills.filter((still) => stateOf(still) === 'moving')
  const chosen = [...marked, ...spreadOverAngles(others, OTHER_FRAMES)]
  let refined = calibration
  for (let round = 0; round < ROUNDS; round++) {
    const known = refined
    const { restAngleRad, groundedAngleRad } = known.best
    const sightings = chosen.map((still) => {
      const board = stateOf(still)
      const angleRad = { rest: restAngleRad, grounded: groundedAngleRad, moving: still.angleRad }[board]
      return plankSightings(known, { ...still, board, angleRad })
    })
    refined = refineCalibration(calibration, sightings, options)
  }
  return refined
}

/** At most `count` stills: those nearest to angles evenly spaced over the whole swing. */
function spreadOverAngles(stills: readonly AngledStill[], count: number): AngledStill[] {
  const angles = stills.map(({ angleRad }) => angleRad)
  const least = Math.min(...angles)
  const most = Math.max(...angles)
  const chosen = new Set<AngledStill>()
  for (let k = 0; k < count; k++) {
    const wanted = least + (k / (count - 1)) * (most - least)
    const off = ({ angleRad }: AngledStill): number => Math.abs(angleRad - wanted)
    const free = stills.filter((still) => !chosen.has(still))
    if (free.length > 0) chosen.add(free.reduce((a, b) => (off(b) < off(a) ? b : a)))
  }
  return [...chosen]
}
