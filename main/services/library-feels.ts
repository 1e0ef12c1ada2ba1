import type { BoardFeel } from '../../analysis/board-physics/feel.ts'
import type { DropRecord } from '../../analysis/board-physics/drop-curve.ts'
import { parseDroptest } from '../files/droptest-file.ts'
import type { Parsed } from '../files/parsed.ts'
import type { Library } from '../library/library.ts'
import { feelOfBoard } from '../outputs/report/feel-of-board.ts'
import { datedDrops } from './board-drops.ts'
import { feelBases } from './board-feels.ts'
import { weighedRides } from './weighed-rides.ts'

const NONE: Parsed<readonly DropRecord[]> = { ok: true, value: [] }

/**
 * How the boards of a library feel, by id, worked out at once and in this process: for commands, which end with it. A
 * board whose drops cannot be read is left out; its own page says what is wrong.
 */
export async function libraryFeels(library: Library): Promise<ReadonlyMap<string, BoardFeel>> {
  const feels = new Map<string, BoardFeel>()
  for (const { board, clips, rides: cards } of feelBases(library)) {
    const rides = await weighedRides(library, cards)
    const dated = clips.flatMap(datedDrops)
    const drops = dated.length === 0 ? NONE : parseDroptest({ drops: dated }, library.folder, board.shape)
    if (!drops.ok || (drops.value.length === 0 && rides.length === 0)) continue
    feels.set(board.id, feelOfBoard({ board: board.shape, drops: drops.value, rides, plankKg: null }))
  }
  return feels
}
