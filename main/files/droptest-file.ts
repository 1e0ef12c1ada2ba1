import { z } from 'zod'
import { dayNumber } from '../../analysis/progress/season.ts'
import type { DropRecord } from '../../analysis/board-physics/drop-curve.ts'
import type { Board } from '../../analysis/board/board.ts'
import { BOARD_LIMITS } from '../../analysis/board/board-limits.ts'
import { TEST_WEIGHT_KG } from '../../analysis/drop/drop-test.ts'
import type { Estimate } from '../../analysis/estimate.ts'
import { testMassAlongM, USUAL_PLACE } from '../../analysis/rules/rule-sets.ts'
import { estimateShape, measuredShape, numberIn } from './field-shapes.ts'
import { readJsonFile } from './json-file.ts'
import { parsedAs, type Parsed } from './parsed.ts'

const estimate = estimateShape.nullish()

const framesShape = z
  .object({ ptsS: z.array(z.number()), boardAngleDeg: z.array(z.number().nullable()) })
  .superRefine(({ ptsS, boardAngleDeg }, context) => {
    if (ptsS.length !== boardAngleDeg.length) {
      const message = `must be as long as ptsS (${ptsS.length}), got ${boardAngleDeg.length}`
      return context.addIssue({ code: 'custom', path: ['boardAngleDeg'], message })
    }
    const back = ptsS.findIndex((timeS, k) => k > 0 && timeS <= ptsS[k - 1]!)
    if (back < 0) return
    const message = `must be later than the one before (${ptsS[back - 1]} s), got ${ptsS[back]} s`
    context.addIssue({ code: 'custom', path: ['ptsS', back], message })
  })

const sizesShape = z.object({
  lengthM: numberIn(BOARD_LIMITS.lengthM, 'm'),
  upContactM: measuredShape,
  downContactM: measuredShape,
  pivotHeightM: measuredShape,
  restAngleDeg: measuredShape,
  swingDeg: estimateShape,
})

/** Of each drop only weight, events, measures, frames and, where they are ours, sizes are read; a weight without a place lay in the down contact. */
const dropShape = (board: Board) =>
  z
    .object({
      massKg: numberIn(TEST_WEIGHT_KG, 'kg'),
      massAtM: numberIn({ min: 0, max: board.lengthM }, 'm').nullish(),
      events: z
        .object({ placed: estimate, released: estimate, tipStart: estimate, grounded: estimate })
        .partial()
        .nullish(),
      measures: z
        .object({ fallFromPlacedS: estimate, fallFromReleasedS: estimate, bounceM: estimate })
        .partial()
        .nullish(),
      day: z.string().nullish(),
      moved: z.boolean().nullish(),
      frames: framesShape.nullish(),
      sizes: sizesShape.nullish().catch(null),
    })
    .transform(({ massKg, massAtM, events, measures, moved, day, frames, sizes }): DropRecord => ({
      massKg,
      massAtM: massAtM ?? testMassAlongM(USUAL_PLACE, board),
      placed: events?.placed ?? null,
      released: events?.released ?? null,
      grounded: events?.grounded ?? null,
      fallFromPlacedS: measures?.fallFromPlacedS ?? null,
      fallFromReleasedS: measures?.fallFromReleasedS ?? null,
      bounceM: measures?.bounceM ?? null,
      day: typeof day === 'string' ? dayNumber(day) : null,
      moved: moved ?? movedFrom(events?.tipStart ?? null),
      sizes: sizes ?? null,
      ...(frames ?? { ptsS: [], boardAngleDeg: [] }),
    }))

/** The drops in a `droptest.json`, whoever wrote it. */
export async function readDroptestFile(path: string, board: Board): Promise<Parsed<readonly DropRecord[]>> {
  const json = await readJsonFile(path)
  return json.ok ? parseDroptest(json.value, path, board) : json
}

/** Checks a value read from `file` (its name, for messages). */
export function parseDroptest(value: unknown, file: string, board: Board): Parsed<readonly DropRecord[]> {
  const shape = z.object({
    schema: z.literal('tiphold.droptest/1').nullish(),
    drops: z.array(dropShape(board)).min(1, 'is empty; film at least one drop'),
  })
  const read = parsedAs(shape, value, file)
  return read.ok ? { ok: true, value: read.value.drops } : read
}

function movedFrom(tipStart: Estimate | null): boolean | null {
  if (tipStart?.kind === 'measured') return true
  return tipStart?.kind === 'withheld' && tipStart.reason === 'never-tipped' ? false : null
}
