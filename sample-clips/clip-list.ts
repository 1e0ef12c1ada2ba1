import { FULL_BOARD, HERDER, MEADOW, QUIET, TRIPOD } from './parts.ts'
import type { Scenario } from './scenario.ts'

/** The clips that lie in the repository. Dogs, people and places are invented. */
export const CLIPS: readonly Scenario[] = [
  {
    name: 'wren-hold',
    description: 'Wren trots up, waits near the end until the board has landed, and walks off.',
    seed: 11,
    durationS: 5.2,
    board: FULL_BOARD,
    action: {
      kind: 'ride',
      dog: HERDER,
      handler: null,
      startS: 0.55,
      startAlongM: -2.1,
      approachMps: 2.6,
      climbMps: 2.1,
      tipMps: 1.7,
      pauses: [],
      ending: { kind: 'hold', leadFromEndM: 0.3, waitS: 0.5 },
      leaveMps: 2.4,
      gallops: false,
    },
    camera: TRIPOD,
    field: MEADOW,
    sound: { ...QUIET, others: [{ kind: 'bark', atS: 0.7, distanceM: 14 }] },
  },
]
