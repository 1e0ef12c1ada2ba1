import { existsSync } from 'node:fs'
import { readdir } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { readJsonFile } from './json-file.ts'
import { JsonObject, parsed } from './json-object.ts'

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

async function weightIn(truthPath: string): Promise<SampleClip['weight']> {
  if (!existsSync(truthPath)) return null
  const json = await readJsonFile(truthPath)
  if (!json.ok) throw new Error(json.message)
  const weight = parsed(() => {
    const truth = new JsonObject(truthPath, '', json.value)
    if (!truth.has('block')) return null
    const block = truth.object('block')
    return {
      massKg: block.number('massKg', { unit: 'kg', min: 0.05, max: 50 }),
      massAtM: block.number('positionM', { unit: 'm', min: 0, max: 6 }),
    }
  })
  if (!weight.ok) throw new Error(weight.message)
  return weight.value
}
