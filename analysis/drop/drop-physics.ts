import type { Board } from '../board/board.ts'
import { fitBoard } from '../board-physics/board-fit.ts'
import { dropCurve } from '../board-physics/drop-curve.ts'
import { physicsOf } from '../board-physics/physics-of.ts'
import { measured, type Estimate } from '../estimate.ts'
import { fall } from './drop-from.ts'
import type { Drop, DropTestFile } from './drop-test.ts'

/** A board is free when the hand is off, to this, 1 sd, s: fingers let go one after the other. */
const LETTING_GO_S = 0.005
/** Picture and motion agree about the letting go within this many sd, or the picture is believed. */
const AGREE = 3

/**
 * The drops of one board with its physics, and with the letting go as the board's motion tells it: a board that is free
 * begins to turn at once, too slowly to be seen at first, so that its whole curve tells better than the hand when that was.
 *
 * @param drops of one board, as they were followed; times in s, angles in deg
 * @param board its sizes, m
 * @returns the same drops, those that moved with a sharper letting go, and the board's physics
 */
export function withPhysics(
  drops: readonly Drop[],
  board: Board,
): { readonly drops: readonly Drop[]; readonly physics: DropTestFile['physics'] } {
  const curves = drops.map((drop) =>
    dropCurve({ ...drop, ...drop.events, ...drop.measures, ...drop.frames }, board.lengthM),
  )
  const fit = fitBoard(curves, board, null)
  const begins = fit.begins.values()
  const told = drops.map((drop, k) => {
    const [begin] = curves[k]!.swings.map(({ towards }) => ({ towards, ...begins.next().value! }))
    return begin?.towards === 1 ? letGo(drop, begin) : drop
  })
  return { drops: told, physics: physicsOf(fit) }
}

function letGo(drop: Drop, begin: { readonly value: number; readonly sd: number }): Drop {
  const { released: seen, grounded, tipStart } = drop.events
  const moving = measured(begin.value, Math.hypot(begin.sd, LETTING_GO_S))
  if (!isBelieved(moving, seen, tipStart)) return drop
  return {
    ...drop,
    events: { ...drop.events, released: moving },
    measures: { ...drop.measures, fallFromReleasedS: fall(grounded, moving) },
  }
}

function isBelieved(moving: { value: number; sd: number }, seen: Estimate, tipStart: Estimate): boolean {
  if (seen.kind !== 'measured') return false
  if (tipStart.kind === 'measured' && moving.value > tipStart.value) return false
  return moving.sd < seen.sd && Math.abs(moving.value - seen.value) < AGREE * Math.hypot(moving.sd, seen.sd, 0.02)
}
