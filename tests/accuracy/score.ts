import type { Drop } from '../../analysis/drop/drop-test.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import { trueNumber, type Truth, type TrueZones } from './clips-with-truth.ts'
import { compare, type Compared, curveError95, scoreVerdict, type VerdictScore } from './compare.ts'
import { type FootfallScore, scoreFootfalls, trueFootfalls } from './footfall-score.ts'

/** The values that are compared with their truth; s and m. */
export type RideValue =
  'tipStartS' | 'groundedS' | 'bangHeardS' | 'leadPawAtTipM' | 'bodyAtTipM' | 'holdBeforeGroundS' | 'leftS' | 'firstOnS'
export type DropValue = 'tipStartS' | 'groundedS' | 'bangHeardS' | 'fallFromReleasedS' | 'fallFromPlacedS'

/** How right the measuring of one clip was. */
export interface ClipScore {
  readonly name: string
  readonly kind: 'ride' | 'drop'
  readonly frameS: number
  readonly values: Readonly<Record<string, Compared>>
  readonly verdicts: Readonly<Record<string, VerdictScore>>
  /** Board angle: 95 % of the frames are nearer to the truth than this, deg. */
  readonly angleError95Deg: number | null
  readonly footfalls: FootfallScore | null
}

export interface RideScore extends ClipScore {
  readonly kind: 'ride'
  readonly values: Readonly<Record<RideValue, Compared>>
}

export interface DropScore extends ClipScore {
  readonly kind: 'drop'
  readonly values: Readonly<Record<Exclude<DropValue, 'bangHeardS'>, Compared>>
}

export function scoreRide(name: string, truth: Truth, ride: Ride): RideScore {
  const { events } = truth
  const zones = (truth.zones ?? events['zones'] ?? null) as TrueZones | null
  const at = (key: string) => trueNumber(events, key)
  const footfalls = trueFootfalls(truth)
  return {
    name,
    kind: 'ride',
    frameS: 1 / truth.camera.fps,
    values: {
      tipStartS: compare(ride.events.tipStart, at('tipStartS')),
      groundedS: compare(ride.events.grounded, at('groundedS')),
      // Without a landing sound in the truth a bang may be one of something else: nothing to compare.
      bangHeardS: at('bangHeardS') === null ? { state: 'none' } : compare(ride.events.bangHeard, at('bangHeardS')),
      leadPawAtTipM: compare(ride.measures.leadPawAtTipM, at('leadPawAtTipM')),
      // Filmed dogs have no known centre of mass.
      bodyAtTipM:
        events['bodyCentreAtTipM'] === undefined
          ? { state: 'none' }
          : compare(ride.measures.bodyAtTipM, at('bodyCentreAtTipM')),
      holdBeforeGroundS: compare(ride.measures.holdBeforeGroundS, at('holdBeforeGroundS')),
      leftS: compare(ride.events.left, at('leftPlankS')),
      firstOnS: compare(ride.events.firstOn, at('firstOnS')),
    },
    verdicts: {
      ...(zones === null
        ? {}
        : {
            up: scoreVerdict(ride.zones.up.verdict, zones.up.touched ? 'touched' : 'missed'),
            down: scoreVerdict(ride.zones.down.verdict, zones.down.touched ? 'touched' : 'missed'),
          }),
      leaving: scoreVerdict(ride.leaving.verdict, trueLeaving(events)),
    },
    angleError95Deg: angleError95(ride.frames, truth),
    footfalls: footfalls === null ? null : scoreFootfalls(footfalls, ride.footfalls),
  }
}

export function scoreDrop(name: string, truth: Truth, drop: Drop): DropScore {
  const at = (key: string) => trueNumber(truth.events, key)
  const since = (from: number | null) => {
    const groundedS = at('groundedS')
    return groundedS === null || from === null ? null : groundedS - from
  }
  const { angleDeg } = truth.frames
  const sankM = (truth.board.lengthM / 2) * (sinDeg(Math.max(...angleDeg)) - sinDeg(angleDeg[0]!))
  return {
    name,
    kind: 'drop',
    frameS: 1 / truth.camera.fps,
    values: {
      tipStartS: compare(drop.events.tipStart, at('tipStartS')),
      groundedS: compare(drop.events.grounded, at('groundedS')),
      fallFromReleasedS: compare(drop.measures.fallFromReleasedS, since(at('releaseS'))),
      fallFromPlacedS: compare(drop.measures.fallFromPlacedS, since(at('placedS'))),
    },
    verdicts: {
      // The board counts as moved once the exit end has sunk by 50 mm.
      moved: scoreVerdict(drop.moved === null ? 'unsure' : String(drop.moved), String(sankM > 0.05)),
    },
    angleError95Deg: angleError95(drop.frames, truth),
    footfalls: null,
  }
}

/** The verdict on leaving that the true times call for. */
function trueLeaving(events: Truth['events']): string {
  const [leftS, tipS, groundedS] = ['leftPlankS', 'tipStartS', 'groundedS'].map((name) => trueNumber(events, name))
  if (tipS == null || (leftS != null && leftS < tipS)) return 'before-tip'
  if (groundedS == null) return leftS == null ? 'not-seen' : 'before-ground'
  return leftS != null && leftS < groundedS ? 'before-ground' : 'after-ground'
}

function angleError95(
  frames: { readonly ptsS: readonly number[]; readonly boardAngleDeg: readonly (number | null)[] },
  truth: Truth,
): number | null {
  return curveError95(
    { ptsS: frames.ptsS, values: frames.boardAngleDeg },
    { ptsS: truth.frames.ptsS, values: truth.frames.angleDeg },
  )
}

function sinDeg(deg: number): number {
  return Math.sin((deg * Math.PI) / 180)
}
