import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { findSampleClips, type SampleClip } from '../../main/files/sample-clips.ts'

const ROOT = join(import.meta.dirname, '../..')

/** Clips of our own generator, and clips by others that lie beside a checkout on some machines. */
export const SAMPLE_FOLDER = join(ROOT, 'sample-clips/clips')
export const SHARED_FOLDER = join(ROOT, '../shared/clips')

/** What a truth file says: s of real time, m along the plank from the entry end. What did not happen is null or absent. */
export interface Truth {
  readonly camera: { readonly fps: number }
  readonly slowMotionFactor?: number
  readonly board: { readonly lengthM: number }
  readonly events: Readonly<Record<string, unknown>>
  readonly zones?: TrueZones | null
  readonly frames: TrueFrames
}

export interface TrueZones {
  readonly up: { readonly touched: boolean }
  readonly down: { readonly touched: boolean }
}

export interface TrueFrames {
  readonly ptsS: readonly number[]
  readonly angleDeg: readonly number[]
  /** By the paw's name: LF, RF, LH, RH. Absent for filmed dogs. */
  readonly paws?: Readonly<Record<string, { readonly s: readonly number[]; readonly touching: readonly number[] }>>
}

export interface ClipWithTruth extends SampleClip {
  readonly truth: Truth
}

/** The clips of a folder that have marks, board and truth beside them, by name; none where there is no such folder. */
export async function clipsWithTruth(folder: string): Promise<readonly ClipWithTruth[]> {
  if (!existsSync(folder)) return []
  return (await findSampleClips(folder)).flatMap((clip) => {
    const path = join(folder, `${clip.name}.truth.json`)
    return existsSync(path) ? [{ ...clip, truth: JSON.parse(readFileSync(path, 'utf8')) as Truth }] : []
  })
}

/** A time, place or duration of a truth file; null where it did not happen or was not written down. */
export function trueNumber(events: Truth['events'], name: string): number | null {
  const value = events[name]
  return typeof value === 'number' ? value : null
}
