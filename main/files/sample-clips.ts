import { existsSync } from 'node:fs'
import { readdir } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { z } from 'zod'
import { BOARD_LIMITS } from '../../analysis/board/board-limits.ts'
import { TEST_WEIGHT_KG } from '../../analysis/drop/drop-test.ts'
import { numberIn } from './field-shapes.ts'
import { readJsonFile } from './json-file.ts'
import { parsedAs } from './parsed.ts'

/** A clip that lies in a folder with everything needed to measure it. */
export interface SampleClip {
  readonly name: string
  readonly clipPath: string
  readonly marksPath: string
  readonly boardPath: string
  /** For a drop test; null for a ride. */
  readonly weight: { readonly massKg: number; readonly massAtM: number } | null
}

/**
 * The clips in a folder and those below it that have marks and a board beside them (NAME.mp4, NAME.marks.json,
 * NAME.board.json), by name. A NAME.truth.json with a `block` tells the weight of a drop test.
 */
export async function findSampleClips(folder: string): Promise<readonly SampleClip[]> {
  const clips: SampleClip[] = []
  for (const file of await readdir(folder, { recursive: true })) {
    if (!/\.(mp4|mov|mkv|webm|avi)$/i.test(file)) continue
    const stem = join(folder, file.replace(/\.[^.]+$/, ''))
    const [marksPath, boardPath] = [`${stem}.marks.json`, `${stem}.board.json`]
    if (!existsSync(marksPath) || !existsSync(boardPath)) continue
    const weight = await weightIn(`${stem}.truth.json`)
    clips.push({ name: basename(stem), clipPath: join(folder, file), marksPath, boardPath, weight })
  }
  return clips.sort((a, b) => a.name.localeCompare(b.name))
}

const truthShape = z.object({
  block: z
    .object({
      massKg: numberIn(TEST_WEIGHT_KG, 'kg'),
      positionM: numberIn({ min: 0, max: BOARD_LIMITS.lengthM.max }, 'm'),
    })
    .nullish(),
})

async function weightIn(truthPath: string): Promise<SampleClip['weight']> {
  if (!existsSync(truthPath)) return null
  const json = await readJsonFile(truthPath)
  if (!json.ok) throw new Error(json.message)
  const truth = parsedAs(truthShape, json.value, truthPath)
  if (!truth.ok) throw new Error(truth.message)
  const { block } = truth.value
  return block == null ? null : { massKg: block.massKg, massAtM: block.positionM }
}
