import type { PictureSizes } from '../../../analysis/board-sizes/picture-sizes.ts'
import type { BoardFit } from '../../../analysis/board-physics/board-fit.ts'
import { checkBoard } from '../../../analysis/board-physics/board-check.ts'
import type { BoardCheckFile } from '../../../analysis/board-physics/board-check-file.ts'
import type { Counterweight } from '../../../analysis/board-physics/advice-option.ts'
import type { WeighedRide } from '../../../analysis/board-physics/weighed-ride.ts'
import type { DropRecord } from '../../../analysis/board-physics/drop-curve.ts'
import type { Board } from '../../../analysis/board/board.ts'
import type { RuleSet } from '../../../analysis/rules/rule-sets.ts'
import { dayText } from '../../../analysis/progress/season.ts'
import { programVersion } from '../../program-version.ts'

export interface BoardCheckOrder {
  readonly drops: readonly DropRecord[]
  readonly board: Board
  /** The plank's weight without its base, kg; null: as the board's own entry has it, if at all. */
  readonly plankKg: number | null
  readonly counterweights: readonly Counterweight[]
  /** Rides of weighed dogs on this board. */
  readonly rides?: readonly WeighedRide[]
  /** Its sizes as the marks of other clips show them. */
  readonly pictures?: readonly PictureSizes[]
}

/** A board held against a rule set, as `boardcheck.json` has it; null where the rule set prescribes no drop test. */
export function boardCheckFile(rules: RuleSet, order: BoardCheckOrder, fit?: BoardFit): BoardCheckFile | null {
  if (rules.drop === null) return null
  return {
    schema: 'tiphold.boardcheck/1',
    program: { version: programVersion },
    rules: { key: rules.key, name: rules.name, source: rules.drop.source },
    drops: order.drops.map(({ massKg, massAtM, moved, day = null }) => ({
      massKg,
      massAtM,
      moved,
      day: day === null ? null : dayText(day),
    })),
    ...checkBoard({ ...order, rules: { ...rules, drop: rules.drop } }, fit),
    plankKg: order.plankKg ?? order.board.massKg ?? null,
  }
}
