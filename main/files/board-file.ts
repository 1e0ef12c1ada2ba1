import type { Board } from '../../analysis/board/board.ts'
import { BOARD_LIMITS, boardFault } from '../../analysis/board/board-limits.ts'
import { readJsonFile } from './json-file.ts'
import { JsonObject, parsed, type NumberRule, type Parsed } from './json-object.ts'

function rule(field: keyof typeof BOARD_LIMITS): NumberRule {
  return { unit: field === 'massKg' ? 'kg' : 'm', ...BOARD_LIMITS[field] }
}

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
      fields.has(field) ? { [field]: fields.number(field, rule(field)) } : {}
    const board: Board = {
      lengthM: fields.number('lengthM', rule('lengthM')),
      widthM: fields.number('widthM', rule('widthM')),
      pivotHeightM: fields.number('pivotHeightM', rule('pivotHeightM')),
      contactM: fields.number('contactM', rule('contactM')),
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
