import type { Board } from '../../analysis/board/board.ts'
import { readJsonFile } from './json-file.ts'
import { JsonObject, parsed, type NumberRule, type Parsed } from './json-object.ts'

/** What a board's sizes may be, wide enough for training boards and for the biggest ones of any rule book. */
const rules = {
  lengthM: metres(1, 6),
  widthM: metres(0.1, 1),
  pivotHeightM: metres(0.05, 1.2),
  contactM: metres(0.1, 2),
  thicknessM: metres(0.005, 0.2),
  axisBelowTopM: metres(0, 0.1),
  massKg: { unit: 'kg', min: 1, max: 100 },
} satisfies Record<string, NumberRule>

/** The board in a `board.json`. */
export async function readBoardFile(path: string): Promise<Parsed<Board>> {
  const json = await readJsonFile(path)
  return json.ok ? parseBoard(json.value, path) : json
}

/** Checks a value read from `file` (its name, for messages). Unknown further fields are accepted. */
export function parseBoard(value: unknown, file: string): Parsed<Board> {
  return parsed(() => {
    const fields = new JsonObject(file, '', value)
    const optional = (field: 'thicknessM' | 'axisBelowTopM' | 'massKg') =>
      fields.has(field) ? { [field]: fields.number(field, rules[field]) } : {}
    const board: Board = {
      lengthM: fields.number('lengthM', rules.lengthM),
      widthM: fields.number('widthM', rules.widthM),
      pivotHeightM: fields.number('pivotHeightM', rules.pivotHeightM),
      contactM: fields.number('contactM', rules.contactM),
      ...optional('thicknessM'),
      ...optional('axisBelowTopM'),
      ...optional('massKg'),
      ...(fields.has('materialWord') ? { materialWord: fields.text('materialWord') } : {}),
    }
    const fault = boardFault(board)
    if (fault !== null) throw fields.fault(fault.field, fault.what)
    return board
  })
}

/** What is wrong with a board whose numbers are each in range but do not fit one another; null for a board that can be. */
export function boardFault(
  board: Board,
): { readonly field: 'contactM' | 'pivotHeightM'; readonly what: string } | null {
  const halfM = board.lengthM / 2
  const mustBeLess = (field: 'contactM' | 'pivotHeightM', thing: string) => ({
    field,
    what: `must be less than half of lengthM (${halfM} m), got ${board[field]} m; ${thing}`,
  })
  if (board.contactM >= halfM) return mustBeLess('contactM', 'it is the length of one zone, from its end')
  if (board.pivotHeightM >= halfM) return mustBeLess('pivotHeightM', 'it is the height of the level plank')
  return null
}

function metres(min: number, max: number): NumberRule {
  return { unit: 'm', min, max }
}
