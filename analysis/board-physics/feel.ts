import { withheld, type Estimate } from '../estimate.ts'
import type { BoardFit } from './board-fit.ts'
import { fromDraws, shareOf } from './draws-summary.ts'
import { GRAVITY_MPS2 } from './seesaw-law.ts'
import { landingOf } from './swing.ts'

/** The dogs that are drawn, kg. */
export const SHOWN_DOGS_KG: readonly number[] = [1, 3, 5, 10, 20, 40]

/** What a dog of some weight meets on a board. */
export interface DogFeel {
  readonly massKg: number
  /** Where its body centre is when the board begins to tip, m along from the entry end, if it walks up slowly. */
  readonly tipAtM: Estimate
  /** From the start of the tip to the landing with the dog standing in the middle of the down contact, s. */
  readonly fallS: Estimate
}

/** How a board feels to dogs. */
export interface BoardFeel {
  /**
   * The one figure that boards are compared by: the fall under a dog of 10 kg that stands in the middle of the down
   * contact, s. Small: a light, quick board. Large: a heavy, slow one.
   */
  readonly feelS: Estimate
  readonly dogs: readonly DogFeel[]
  /** Drop tests and rides of weighed dogs behind it. */
  readonly restsOn: { readonly drops: number; readonly rides: number }
}

/** From toy to giant, kg (common practice). */
const DOGS_KG = [1, 2, 3, 5, 7, 10, 15, 20, 25, 30, 40] as const
/** The dog that boards are compared by, kg: small enough for heavy boards to tell (ours). */
const COMPARED_KG = 10
/** What is as unlikely as this is left out: 95 % intervals leave as much out on either side. */
const MOST_UNSURE = 0.025

/**
 * Where dogs of 1 to 40 kg tip a board, and how fast it falls with them.
 *
 * A dog is taken as a weight on the plank under its body centre, without speed: a running dog is further along when the
 * board gives way, and one that leans back or forward shifts its weight.
 *
 * @param fit what drops and rides tell of the board
 * @param board m
 * @param restsOn how many drops and rides those are
 * @returns withheld where the drops do not tell, `never-tipped` where a dog is too light to tip the board from its end
 */
export function boardFeel(
  fit: BoardFit,
  board: { readonly lengthM: number; readonly contactM: number },
  restsOn: BoardFeel['restsOn'],
): BoardFeel {
  const dogs = DOGS_KG.map((massKg) => dogFeel(fit, board, massKg))
  return { feelS: dogs.find(({ massKg }) => massKg === COMPARED_KG)!.fallS, dogs, restsOn }
}

function dogFeel(
  fit: BoardFit,
  board: { readonly lengthM: number; readonly contactM: number },
  massKg: number,
): DogFeel {
  if (fit.settled === 'nothing') return { massKg, tipAtM: UNKNOWN, fallS: UNKNOWN }
  const halfM = board.lengthM / 2
  const weightN = massKg * GRAVITY_MPS2
  const cosine = Math.cos(fit.restRad)
  const places = fit.draws.map(({ law }) => halfM + (law.biasTorqueNm + law.coulombNm / cosine) / weightN)
  const fromPivotM = halfM - board.contactM / 2
  const falls = fit.draws.map(
    ({ law }) => landingOf(law, { massKg, fromPivotM, overAxisM: 0 }, fit.restRad, fit.swingRad, 1)?.afterS ?? Infinity,
  )
  return { massKg, tipAtM: onPlank(places, board.lengthM), fallS: ofThoseThatFall(falls) }
}

function onPlank(places: readonly number[], lengthM: number): Estimate {
  const beyond = shareOf(places, (placeM) => placeM > lengthM)
  if (beyond > 1 - MOST_UNSURE) return TOO_LIGHT
  if (beyond > MOST_UNSURE) return { kind: 'atLeast', value: Math.min(lengthM, fromDraws(places).ci95[0]) }
  return fromDraws(places)
}

function ofThoseThatFall(falls: readonly number[]): Estimate {
  const fall = falls.filter(Number.isFinite)
  const never = 1 - fall.length / falls.length
  if (never > 1 - MOST_UNSURE) return TOO_LIGHT
  return never > MOST_UNSURE ? { kind: 'atLeast', value: fromDraws(fall).ci95[0] } : fromDraws(fall)
}

const TOO_LIGHT = withheld('never-tipped', 'A dog of this weight does not tip the board.')
const UNKNOWN = withheld('not-seen', 'No drop shows how this board moves.')
