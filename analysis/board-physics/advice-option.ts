import type { Measured } from '../estimate.ts'

/** A mass that is fastened to the board as a counterbalance already. */
export interface Counterweight {
  readonly massKg: number
  /** m along from the entry end. */
  readonly atM: number
}

/** One way to bring the fall into the window. */
export interface AdviceOption {
  readonly doWhat: 'add' | 'move' | 'take-off'
  readonly massKg: number
  /** m along from the entry end: where it goes, or where it is taken off. */
  readonly atM: number
  /** Where it is now, when it is moved. */
  readonly fromM: number | null
  /** The fall that follows, timed as the rule set says, s. */
  readonly fallS: Measured
}
