import { withheld, type Estimate } from '../estimate.ts'
import type { BoardFit } from './board-fit.ts'
import { fromDraws } from './draws-summary.ts'

/** The four figures of a board that `droptest.json` and `boardcheck.json` give. */
export interface BoardPhysics {
  readonly inertiaKgM2: Estimate
  readonly biasTorqueNm: Estimate
  readonly coulombNm: Estimate
  readonly viscousNms: Estimate
}

/**
 * The figures of a fitted board, each with its 95 % interval.
 *
 * @param fit what the drops tell
 * @returns wide intervals where one drop only fixes ratios; when the board never moved, no more than the least bias that
 *   holds it, and the rest withheld `never-tipped`
 */
export function physicsOf({ draws, settled }: BoardFit): BoardPhysics {
  if (draws.length === 0) return same(withheld('not-seen', 'No drop shows how this board moves.'))
  if (settled === 'nothing') {
    const never = withheld('never-tipped', 'The board never moved, so only a lower limit is known.')
    return {
      ...same(never),
      biasTorqueNm: { kind: 'atLeast', value: Math.min(...draws.map((d) => d.law.biasTorqueNm)) },
    }
  }
  return {
    inertiaKgM2: fromDraws(
      draws.map(({ law }) => law.inertiaKgM2),
      0,
    ),
    biasTorqueNm: fromDraws(draws.map(({ law }) => law.biasTorqueNm)),
    coulombNm: fromDraws(
      draws.map(({ law }) => law.coulombNm),
      0,
    ),
    viscousNms: fromDraws(
      draws.map(({ law }) => law.viscousNms),
      0,
    ),
  }
}

function same(why: Estimate): BoardPhysics {
  return { inertiaKgM2: why, biasTorqueNm: why, coulombNm: why, viscousNms: why }
}
