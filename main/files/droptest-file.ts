import type { DropRecord } from '../../analysis/board-physics/drop-curve.ts'
import type { Board } from '../../analysis/board/board.ts'
import { measured, Z95, type Estimate } from '../../analysis/estimate.ts'
import { readJsonFile } from './json-file.ts'
import { type JsonObject, parsed, JsonObject as Fields, type Parsed } from './json-object.ts'

const MASS = { unit: 'kg', min: 0.02, max: 100 }
const TIME = { unit: 's', min: -10, max: 1e6 }
const PLAIN = { unit: '', min: -1e6, max: 1e6 }

/** The drops in a `droptest.json`, whoever wrote it. */
export async function readDroptestFile(path: string, board: Board): Promise<Parsed<readonly DropRecord[]>> {
  const json = await readJsonFile(path)
  return json.ok ? parseDroptest(json.value, path, board) : json
}

/**
 * Checks a value read from `file` (its name, for messages). Of each drop only weight, events, measures and frames are
 * read; a weight without a place lay in the middle of the down contact.
 */
export function parseDroptest(value: unknown, file: string, board: Board): Parsed<readonly DropRecord[]> {
  return parsed(() => {
    const fields = new Fields(file, '', value)
    if (fields.has('schema') && fields.text('schema') !== 'tiphold.droptest/1') {
      throw fields.fault('schema', `must be "tiphold.droptest/1", got "${fields.text('schema')}"; is it another file?`)
    }
    const drops = fields.objects('drops').map((drop) => dropFrom(drop, board))
    if (drops.length === 0) throw fields.fault('drops', 'is empty; film at least one drop')
    return drops
  })
}

function dropFrom(drop: JsonObject, { lengthM, contactM }: Board): DropRecord {
  const place = { unit: 'm', min: 0, max: lengthM }
  const events = drop.has('events') ? drop.object('events') : null
  const measures = drop.has('measures') ? drop.object('measures') : null
  const tipStart = estimateFrom(events, 'tipStart')
  return {
    massKg: drop.number('massKg', MASS),
    massAtM: drop.has('massAtM') ? drop.number('massAtM', place) : lengthM - contactM / 2,
    placed: estimateFrom(events, 'placed'),
    released: estimateFrom(events, 'released'),
    grounded: estimateFrom(events, 'grounded'),
    fallFromPlacedS: estimateFrom(measures, 'fallFromPlacedS'),
    fallFromReleasedS: estimateFrom(measures, 'fallFromReleasedS'),
    moved: drop.has('moved') ? drop.flag('moved') : movedFrom(tipStart),
    ...framesFrom(drop),
  }
}

function framesFrom(drop: JsonObject): Pick<DropRecord, 'ptsS' | 'boardAngleDeg'> {
  if (!drop.has('frames')) return { ptsS: [], boardAngleDeg: [] }
  const frames = drop.object('frames')
  const ptsS = frames.numbersOrNulls('ptsS').map((timeS, k) => {
    if (timeS === null) throw frames.fault(`ptsS[${k}]`, 'must be a number, got null')
    return timeS
  })
  const boardAngleDeg = frames.numbersOrNulls('boardAngleDeg')
  if (ptsS.length !== boardAngleDeg.length) {
    throw frames.fault('boardAngleDeg', `must be as long as ptsS (${ptsS.length}), got ${boardAngleDeg.length}`)
  }
  const back = ptsS.findIndex((timeS, k) => k > 0 && timeS <= ptsS[k - 1]!)
  if (back > 0) throw frames.fault(`ptsS[${back}]`, `must be later than the one before (${ptsS[back - 1]} s)`)
  return { ptsS, boardAngleDeg }
}

function estimateFrom(parent: JsonObject | null, field: string): Estimate | null {
  if (parent === null || !parent.has(field)) return null
  const estimate = parent.object(field)
  const kind = estimate.text('kind')
  switch (kind) {
    case 'measured': {
      const value = estimate.number('value', TIME)
      if (estimate.has('sd')) return measured(value, estimate.number('sd', { ...TIME, min: 0 }))
      const [from, to] = estimate.pair('ci95', PLAIN)
      return measured(value, Math.max(0, to - from) / (2 * Z95))
    }
    case 'atLeast':
      return { kind, value: estimate.number('value', TIME) }
    case 'withheld': {
      const reason = estimate.text('reason')
      const known = WITHHELD.find((word) => word === reason) ?? 'not-clear'
      return { kind, reason: known, detail: estimate.has('detail') ? estimate.text('detail') : reason }
    }
    default:
      throw estimate.fault('kind', `must be "measured", "atLeast" or "withheld", got "${kind}"`)
  }
}

const WITHHELD = ['never-tipped', 'never-landed', 'clip-ends', 'out-of-picture', 'hidden', 'not-seen'] as const

function movedFrom(tipStart: Estimate | null): boolean | null {
  if (tipStart?.kind === 'measured') return true
  return tipStart?.kind === 'withheld' && tipStart.reason === 'never-tipped' ? false : null
}
