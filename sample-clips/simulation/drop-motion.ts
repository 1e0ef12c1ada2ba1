import { smoothStep } from '../random.ts'
import type { BoardSpec, DropAction } from '../scenario.ts'
import { add, mix, type Vec3 } from '../world/vector.ts'
import { worldFromPlank, type BoardPlace } from './board-place.ts'
import type { PersonPose } from './person-motion.ts'

export const WEIGHT_HEIGHT_M = 0.11

/** The weight, the hand or pole that brings it, and the person who does it. */
export interface DropPose {
  /** Bottom middle of the weight. */
  readonly weight: Vec3
  /** Whether the weight stands on the plank, and so leans with it. */
  readonly standing: boolean
  readonly person: PersonPose
  /** The ends of the pole; null when the hand does it. */
  readonly pole: readonly [Vec3, Vec3] | null
}

/** Brings the weight down on the raised end, holds it there, lets go and draws back. */
export function dropPose(
  board: BoardSpec,
  action: DropAction,
  side: 1 | -1,
  at: BoardPlace,
  restAt: BoardPlace,
  nowS: number,
): DropPose {
  const spot = worldFromPlank(board, restAt, action.weightAlongM, 0, 0.03 * side)
  const standing = nowS >= action.placedS
  const come = smoothStep((nowS - (action.placedS - 0.7)) / 0.7)
  const go = smoothStep((nowS - action.releasedS) / 0.6)
  const pole = action.reach === 'pole'
  const away: Vec3 = pole ? [0.5, 0.35, -0.2 * side] : [0.2, 0.3, -0.25 * side]
  const approach = add(spot, mix(away, [0, 0, 0], come))
  // The last centimetres are straight down.
  const lowered = add(approach, [0, 0.06 * (1 - smoothStep((nowS - (action.placedS - 0.25)) / 0.25)), 0])
  const weight = standing ? worldFromPlank(board, at, action.weightAlongM, 0, 0.03 * side) : lowered
  const grip = add(standing ? spot : lowered, [0, WEIGHT_HEIGHT_M + 0.03, 0])
  const tool = mix(grip, add(grip, away), go)
  const feetX = spot[0] + (pole ? 1.15 : 0.28)
  const z = -side * (pole ? 0.35 : 0.5)
  const hip = 0.52 * action.person.heightM
  const person: PersonPose = {
    pelvis: [feetX, hip, z],
    heading: -1,
    feet: [
      [feetX + 0.06, 0, z - 0.12],
      [feetX - 0.1, 0, z + 0.12],
    ],
    phase: 0,
    speedMps: 0,
    hands: handsFor(side, pole ? add(tool, [0.72, 0.28, -0.08 * side]) : tool),
  }
  return { weight, standing, person, pole: pole ? [add(tool, [0.8, 0.31, -0.09 * side]), tool] : null }
}

/** The hand nearer the plank does the work: facing along -x, left is the hand on the +z side. */
function handsFor(side: 1 | -1, hand: Vec3): [Vec3 | null, Vec3 | null] {
  return side === 1 ? [hand, null] : [null, hand]
}
