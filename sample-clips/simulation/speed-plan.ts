import type { RideAction } from '../scenario.ts'

/** What the dog knows when it decides how fast to go. */
export interface Situation {
  readonly nowS: number
  readonly alongM: number
  readonly speedMps: number
  readonly lengthM: number
  /** From the body centre forward to the fore paws' mean place. */
  readonly foreAheadM: number
  readonly groundedS: number | null
}

/** Where fore paws may go at most, so that a dog that waits does not step over the place it waits at. */
export interface SpeedWish {
  readonly speedMps: number
  readonly pawLimitM: number
}

const BRAKE_MPS2 = 4

/** The dog's mind: from the place on the plank and the board's state to the speed it wants. */
export class SpeedPlan {
  private readonly action: RideAction
  private pausesDone = 0
  private pausedSinceS: number | null = null

  constructor(action: RideAction) {
    this.action = action
  }

  wish(now: Situation): SpeedWish {
    const { action } = this
    const free = { speedMps: action.leaveMps, pawLimitM: Infinity }
    const pause = this.pausing(now)
    if (pause !== null) return { speedMps: pause, pawLimitM: Infinity }
    const cruise = this.cruise(now)
    const waits = action.ending
    if (waits.kind === 'run-through') {
      if (now.groundedS !== null) return free
      const limit = now.lengthM - 0.05
      return { speedMps: Math.min(cruise, stopAt(limit - 0.03 - now.foreAheadM, now.alongM)), pawLimitM: limit }
    }
    if (waits.kind === 'hold') {
      if (now.groundedS !== null && now.nowS > now.groundedS + waits.waitS) return free
      const limit = now.lengthM - waits.leadFromEndM
      return { speedMps: Math.min(cruise, stopAt(limit - 0.05 - now.foreAheadM, now.alongM)), pawLimitM: limit }
    }
    if (waits.kind === 'leap-zone') {
      const limit = now.lengthM - waits.leadFromEndM
      return { speedMps: Math.min(cruise, stopAt(limit - 0.05 - now.foreAheadM, now.alongM)), pawLimitM: limit }
    }
    return { speedMps: cruise, pawLimitM: now.lengthM - 0.05 }
  }

  /** Speed by place alone: fast to the plank, climbing, then with care towards the pivot. */
  private cruise(now: Situation): number {
    const { action } = this
    const pivot = now.lengthM / 2
    if (now.alongM < -0.3) return action.approachMps
    const climbing = blend(now.alongM, -0.3, 0.5, action.approachMps, action.climbMps)
    return blend(now.alongM, pivot - 0.7, pivot + 0.05, climbing, action.tipMps)
  }

  private pausing(now: Situation): number | null {
    const pause = this.action.pauses[this.pausesDone]
    if (!pause || now.alongM < pause.atM - 1) return null
    if (this.pausedSinceS === null) {
      if (now.alongM > pause.atM - 0.02 || now.speedMps < 0.05) this.pausedSinceS = now.nowS
      return Math.min(this.cruise(now), stopAt(pause.atM, now.alongM))
    }
    if (now.nowS - this.pausedSinceS < pause.forS) return 0
    this.pausesDone++
    this.pausedSinceS = null
    return null
  }
}

/** The speed from which the dog can still stop at a place. */
function stopAt(placeM: number, alongM: number): number {
  const left = placeM - alongM
  return left <= 0.005 ? 0 : Math.sqrt(2 * BRAKE_MPS2 * left) * 0.9
}

function blend(x: number, from: number, to: number, a: number, b: number): number {
  const t = Math.min(1, Math.max(0, (x - from) / (to - from)))
  return a + (b - a) * t * t * (3 - 2 * t)
}
