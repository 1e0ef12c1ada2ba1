import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { DogTrack } from '../dog/dog-track.ts'
import { type Estimate, measured, withheld } from '../estimate.ts'
import type { DogLikeness } from '../silhouette/dog-likeness.ts'
import type { ApproachGrids } from './approach-grids.ts'
import type { ApproachLook } from './approach-watch.ts'
import { bodyPath } from './body-path.ts'
import { asidePerPx, entryLine, type EntryLine } from './entry-line.ts'
import { entrySpeed } from './entry-speed.ts'
import { groundPaws } from './ground-paws.ts'
import { ownPaws } from './own-paws.ts'

/** What is measured of a dog's run up. */
export interface ApproachMeasures {
  /** Of the body's centre along the plank's line, over the last metre before the plank, m/s. */
  readonly entrySpeedMps: Estimate
  /** Of the paws' path on the ground to the plank's axis, positive when the dog comes from the camera's side, deg. */
  readonly entryAngleDeg: Estimate
  /** How far beside the plank's middle line that path meets the entry end, positive towards the camera, m. */
  readonly entryOffsetM: Estimate
}

/** Everything that the run up is measured from. */
export interface ApproachParts {
  readonly looks: readonly ApproachLook[]
  readonly grids: ApproachGrids
  /** null where the dog was not seen well enough on the plank to know it again. */
  readonly likeness: DogLikeness | null
  readonly dog: Pick<DogTrack, 'firstOn'>
  readonly camera: SeesawCamera
  /** Other cameras that may be the true one. */
  readonly draws: readonly SeesawCamera[]
  /** Decoded px per full-resolution px. */
  readonly scale: number
}

/** The run up is what is seen so long before the first paw is on the plank, and so long after, s. */
const BEFORE_S = 2.5
const AFTER_S = 0.45
/** Where a decoded px stands for more than this on the ground, nobody can tell how far aside a paw is, m. */
const MOST_ASIDE_PER_PX_M = 0.09
/** That is asked about half way along the last metre and a half before the entry end, m. */
const MIDWAY_M = -0.7
/** Fewer paws, or paws closer together, tell no line; m. */
const FEWEST_PAWS = 3
const LEAST_SPAN_M = 0.5
/** A line on which less than this share of the paws lie may be that of others. */
const LEAST_SHARE = 0.65
/** Known no better than this, a line is not told: 1 sd, deg and m. */
const MOST_SD = { angleDeg: 7, offsetM: 0.09 }

const DEGREES = 180 / Math.PI

/**
 * Measures the run up: how fast the body came, and the line that the paws came along.
 *
 * @param parts looks at the ground before the plank, s and m; what the dog looks like; the camera
 * @returns each measured or withheld with the reason
 */
export function measureApproach(parts: ApproachParts): ApproachMeasures {
  const { looks, grids, likeness, dog, camera, draws, scale } = parts
  const { firstOn } = dog
  if (firstOn.kind !== 'seen') return allWithheld(withheld(firstOn.reason, firstOn.detail))
  const runUp = looks.filter(({ ptsS }) => ptsS > firstOn.atS - BEFORE_S && ptsS < firstOn.atS + AFTER_S)
  const path = likeness === null ? null : bodyPath(runUp, grids.upright, likeness)
  if (likeness === null || path === null) return allWithheld(UNSEEN)
  const isTooFlat = asidePerPx(camera, scale, MIDWAY_M) > MOST_ASIDE_PER_PX_M
  const paws = isTooFlat ? [] : ownPaws(groundPaws(runUp, grids.ground), path, likeness)
  const seen = entryLine(paws, camera, draws, scale)
  const doubt = isTooFlat ? TOO_FLAT : doubtOf(seen, paws.length)
  // A line that is not believed leaves what is known of any dog.
  const line = doubt === null ? seen : entryLine([], camera, draws, scale)
  const entrySpeedMps = entrySpeed(path, line, likeness, camera, firstOn.atS)
  if (doubt !== null) return { entrySpeedMps, entryAngleDeg: doubt, entryOffsetM: doubt }
  const sdDeg = (DEGREES * line.slopeSd) / (1 + line.slope ** 2)
  return {
    entrySpeedMps,
    entryAngleDeg: sdDeg > MOST_SD.angleDeg ? NOT_SURE : measured(DEGREES * Math.atan(line.slope), sdDeg),
    entryOffsetM: line.offsetSdM > MOST_SD.offsetM ? NOT_SURE : measured(line.offsetM, line.offsetSdM),
  }
}

/** Why a line is not believed; null where it is. */
function doubtOf(line: EntryLine, found: number): Estimate | null {
  if (line.paws < FEWEST_PAWS || line.spanM < LEAST_SPAN_M) return FEW_PAWS
  return line.paws < LEAST_SHARE * found ? NOT_SURE : null
}

function allWithheld(why: Estimate): ApproachMeasures {
  return { entrySpeedMps: why, entryAngleDeg: why, entryOffsetM: why }
}

const UNSEEN = withheld('hidden', 'The dog was not seen clearly enough before the plank: film its run up too.')
const TOO_FLAT = withheld(
  'not-clear',
  'The camera looks along the ground too flatly to tell how far aside a paw stands: film from chest height or higher.',
)
const FEW_PAWS = withheld(
  'not-seen',
  'Too few paws were seen to stand on the ground before the plank: film two or three more steps of the run up, with nobody in front of the dog.',
)
const NOT_SURE = withheld(
  'not-clear',
  'Where the paws stood before the plank tells the line of entry too roughly: film from higher up and closer.',
)
