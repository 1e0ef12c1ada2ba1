import type { Scenario } from '../scenario.ts'
import { exitCornerHeightM, worldFromPlank } from '../simulation/board-place.ts'
import { pawTruth } from '../simulation/events.ts'
import type { Recording } from '../simulation/recording.ts'
import type { Vec3 } from '../world/vector.ts'

/** Something hits something: when, where, how hard (1 for an ordinary landing of the board). */
export interface Impact {
  readonly kind: 'board' | 'paw'
  readonly atS: number
  readonly where: Vec3
  readonly strength: number
}

const QUIETEST_MPS = 0.06
const CLOSE_M = 1e-6
/** A hard end meets the ground and rises again between two recorded milliseconds. */
const NEAR_M = 1e-3

/** Every meeting of the plank's ends with the ground, and every paw set on the plank. */
export function impactsOf(scenario: Scenario, recording: Recording): Impact[] {
  return [...boardImpacts(scenario, recording), ...pawImpacts(scenario, recording)]
}

function boardImpacts({ board }: Scenario, { instants, stepS, groundedS }: Recording): Impact[] {
  const impacts: Impact[] = []
  const entryCornerM = (i: number): number => worldFromPlank(board, instants[i]!.board, 0, -board.thicknessM, 0)[1]
  const exitCornerM = (i: number): number => exitCornerHeightM(board, instants[i]!.board)
  for (const [alongM, heightM] of [
    [0, entryCornerM],
    [board.lengthM, exitCornerM],
  ] as const) {
    for (let i = 3; i + 1 < instants.length; i++) {
      if (heightM(i - 1) <= CLOSE_M || !(heightM(i) <= CLOSE_M || turnsBack(heightM, i))) continue
      const speedMps = (heightM(i - 3) - heightM(i - 1)) / (2 * stepS)
      if (speedMps < QUIETEST_MPS) continue
      const first = alongM > 0 && groundedS !== null && Math.abs(i * stepS - groundedS) < 2 * stepS
      const where = worldFromPlank(board, instants[i]!.board, alongM, -board.thicknessM, 0)
      impacts.push({
        kind: 'board',
        atS: first ? groundedS : i * stepS,
        where,
        strength: Math.min(1.5, speedMps / 1.6),
      })
    }
  }
  return impacts
}

const turnsBack = (heightM: (i: number) => number, i: number): boolean =>
  heightM(i) < NEAR_M && heightM(i) < heightM(i - 1) && heightM(i + 1) >= heightM(i)

function pawImpacts(scenario: Scenario, { instants, stepS }: Recording): Impact[] {
  if (scenario.action.kind !== 'ride') return []
  const impacts: Impact[] = []
  for (const paw of [0, 1, 2, 3]) {
    for (let i = 1; i < instants.length; i++) {
      const [before, now] = [instants[i - 1]!, instants[i]!]
      if (pawTruth(scenario, before, paw).touching || !pawTruth(scenario, now, paw).touching) continue
      const strength = 0.12 * Math.min(1, scenario.action.dog.massKg / 20)
      impacts.push({ kind: 'paw', atS: i * stepS, where: now.dog!.paws[paw]!, strength })
    }
  }
  return impacts
}
