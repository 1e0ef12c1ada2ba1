import { betaDraw, logGamma } from '../numeric/gamma.ts'
import type { Random } from '../numeric/random.ts'

/** How often a contact was missed on one board. */
export interface BoardCount {
  readonly missed: number
  readonly of: number
}

/** How much alike boards may be: the rides that the other boards are worth, with what is thought of each beforehand. */
const WORTH = [
  { rides: 2, share: 0.05 },
  { rides: 5, share: 0.1 },
  { rides: 10, share: 0.15 },
  { rides: 30, share: 0.25 },
  { rides: 100, share: 0.25 },
  { rides: 1000, share: 0.2 },
]
const SHARES = 100
const DRAWS = 4000

/**
 * How likely a contact is missed on a board: each board has its own chance, about a common one (a beta-binomial
 * hierarchy; Gelman and others, Bayesian Data Analysis, section 5.3).
 *
 * @param boards on which the dog was seen
 * @param board the one that is asked for; null for a new one
 * @param random where chance comes from
 * @returns chances that go with the rides, 0 to 1, a few thousand
 */
export function missedChances(boards: readonly BoardCount[], board: number | null, random: Random): number[] {
  const points: { readonly share: number; readonly rides: number; readonly log: number }[] = []
  for (let k = 0; k < SHARES; k++) {
    // Evenly spread in the angle whose sine's square is the share: Jeffreys' prior.
    const share = Math.sin(((k + 0.5) / SHARES) * (Math.PI / 2)) ** 2
    for (const worth of WORTH) {
      const log = boards.reduce((sum, one) => sum + logOf(one, share * worth.rides, (1 - share) * worth.rides), 0)
      points.push({ share, rides: worth.rides, log: log + Math.log(worth.share) })
    }
  }
  const best = Math.max(...points.map(({ log }) => log))
  const weights = points.map(({ log }) => Math.exp(log - best))
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const own = board === null ? { missed: 0, of: 0 } : boards[board]!
  let k = 0
  let passed = weights[0]! / total
  return Array.from({ length: DRAWS }, (_, draw) => {
    // Systematic sampling: each point as often as its weight asks for.
    while (passed < (draw + 0.5) / DRAWS && k < points.length - 1) passed += weights[++k]! / total
    const { share, rides } = points[k]!
    return betaDraw(random, share * rides + own.missed, (1 - share) * rides + own.of - own.missed)
  })
}

function logOf({ missed, of }: BoardCount, a: number, b: number): number {
  const logBeta = (x: number, y: number) => logGamma(x) + logGamma(y) - logGamma(x + y)
  return logBeta(a + missed, b + of - missed) - logBeta(a, b)
}
