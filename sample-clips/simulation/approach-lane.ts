import { smoothStep } from '../random.ts'
import type { ApproachSpec } from '../scenario.ts'

/** From the entry end on, the dog has come to the plank's middle line after this much, m. */
const STRAIGHT_AFTER_M = 0.8

/** How far beside the plank's middle line a dog is that comes from aside, until it goes along the plank. */
export class ApproachLane {
  private readonly slope: number
  private readonly offsetM: number

  constructor({ angleDeg, offsetM }: ApproachSpec) {
    this.slope = Math.tan((angleDeg * Math.PI) / 180)
    this.offsetM = offsetM
  }

  /** z of the line at a place along, m. */
  asideM(alongM: number): number {
    if (alongM <= 0) return this.offsetM - this.slope * alongM
    return this.offsetM * (1 - smoothStep(alongM / STRAIGHT_AFTER_M))
  }
}
