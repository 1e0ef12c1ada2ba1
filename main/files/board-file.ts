import { z } from 'zod'
import type { Counterweight } from '../../analysis/board-physics/advice-option.ts'
import type { Board } from '../../analysis/board/board.ts'
import { BOARD_LIMITS, boardFault, COUNTERWEIGHT_KG } from '../../analysis/board/board-limits.ts'
import { numberIn, stated } from './field-shapes.ts'
import { readJsonFile } from './json-file.ts'
import { parsedAs, type Parsed } from './parsed.ts'

const within = (field: keyof typeof BOARD_LIMITS) => numberIn(BOARD_LIMITS[field], field === 'massKg' ? 'kg' : 'm')

/** Unknown further fields are accepted and passed over. */
const boardShape = z
  .object({
    lengthM: within('lengthM'),
    widthM: within('widthM'),
    pivotHeightM: within('pivotHeightM'),
    contactM: within('contactM'),
    thicknessM: within('thicknessM').nullish(),
    axisBelowTopM: within('axisBelowTopM').nullish(),
    massKg: within('massKg').nullish(),
    materialWord: z.string().nullish(),
  })
  .transform(({ lengthM, widthM, pivotHeightM, contactM, ...more }): Board => ({
    lengthM,
    widthM,
    pivotHeightM,
    contactM,
    ...stated(more),
  }))
  .superRefine((board, context) => {
    const fault = boardFault(board)
    if (fault !== null) context.addIssue({ code: 'custom', path: [fault.field], message: fault.what })
  })

/** The board in a `board.json`. */
export async function readBoardFile(path: string): Promise<Parsed<Board>> {
  const json = await readJsonFile(path)
  return json.ok ? parseBoard(json.value, path) : json
}

/** Checks a value read from `file` (its name, for messages). */
export function parseBoard(value: unknown, file: string): Parsed<Board> {
  return parsedAs(boardShape, value, file)
}

/** The counterweights that a board file names (`counterweights`: a list of `massKg` and `atM` along); none if absent. */
export async function readCounterweights(path: string, { lengthM }: Board): Promise<Parsed<readonly Counterweight[]>> {
  const json = await readJsonFile(path)
  if (!json.ok) return json
  const weight = z.object({ massKg: numberIn(COUNTERWEIGHT_KG, 'kg'), atM: numberIn({ min: 0, max: lengthM }, 'm') })
  const file = parsedAs(z.object({ counterweights: z.array(weight).nullish() }), json.value, path)
  return file.ok ? { ok: true, value: file.value.counterweights ?? [] } : file
}
