import type { Measured } from '../estimate.ts'
import { fallsAndLeavings } from './fall-and-leaving.ts'
import type { SeasonRide } from './season.ts'

/** How long a board takes to land under a dog, s, and its 1 sd. */
export interface ExpectedFall {
  readonly fallS: number
  readonly sdS: number
}

/**
 * Falls under one dog go as the boards' feels do: in simulated rides of dogs on pairs of boards to 2 % (1 sd); dogs of
 * flesh may go differently on a strange board, so this is taken to be as much.
 */
const PROPORTION_LOG_SD = 0.04

/**
 * How fast a board that a dog has not been on would fall under it, from how the board feels beside those that the dog
 * knows.
 *
 * @param rides of one dog
 * @param feels of boards by name, s under a dog of 10 kg
 * @param board the one that is asked for
 * @returns null where the feel of neither it nor a board that the dog was on is known
 */
export function fallByFeel(
  rides: readonly SeasonRide[],
  feels: ReadonlyMap<string, Measured>,
  board: string,
): ExpectedFall | null {
  const asked = feels.get(board)
  if (asked === undefined) return null
  const { boards, usualFallS } = fallsAndLeavings(rides)
  const known = boards.flatMap((name, b) => {
    const feel = feels.get(name)
    const usualS = usualFallS[b]!
    if (feel === undefined || !Number.isFinite(usualS) || name === board) return []
    return [
      {
        logFall: Math.log((usualS * asked.value) / feel.value),
        logVariance: relative(feel) ** 2 + PROPORTION_LOG_SD ** 2,
      },
    ]
  })
  if (known.length === 0) return null
  const weights = known.map(({ logVariance }) => 1 / logVariance)
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const logFall = known.reduce((sum, one, k) => sum + weights[k]! * one.logFall, 0) / total
  const fallS = Math.exp(logFall)
  return { fallS, sdS: fallS * Math.hypot(relative(asked), Math.sqrt(1 / total)) }
}

function relative({ value, sd }: Measured): number {
  return sd / value
}
