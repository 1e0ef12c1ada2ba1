import { readFileSync } from 'node:fs'
import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { ClipScore } from './score.ts'

/** The last recorded run of `npm run bench:accuracy`: what README.md says is computed from it. */
export interface AccuracyRecord {
  readonly sample: RecordedClips
  /** null until a run had clips by others beside the checkout; kept by runs without them. */
  readonly shared: RecordedClips | null
}

export interface RecordedClips {
  /** YYYY-MM-DD */
  readonly measuredOn: string
  readonly clips: readonly ClipScore[]
  /** Clips of which nothing was measured, with the reason given. */
  readonly failed: readonly { readonly name: string; readonly detail: string }[]
}

const FILE = join(import.meta.dirname, 'accuracy.json')

export function readAccuracy(): AccuracyRecord {
  return JSON.parse(readFileSync(FILE, 'utf8')) as AccuracyRecord
}

export async function writeAccuracy(record: AccuracyRecord): Promise<void> {
  const rounded = (_: string, value: unknown) => (typeof value === 'number' ? Number(value.toPrecision(4)) : value)
  await writeFile(FILE, `${JSON.stringify(record, rounded, 1)}\n`)
}
