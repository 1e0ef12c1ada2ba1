import { readFileSync } from 'node:fs'
import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { dayInWords, markdownTable } from './table.ts'

/** The last recorded run of `npm run bench:speed`: what README.md says of speed is computed from it. */
export interface SpeedRecord {
  /** YYYY-MM-DD */
  readonly measuredOn: string
  readonly cores: number
  /** One minute of 1080p60 with two rides. */
  readonly long: SpeedOfClip
  /** Its first seconds as a clip of their own, in which everything is followed; the start of the program counts. */
  readonly short: SpeedOfClip & { readonly lengthS: number }
}

/** Medians of several runs, s of wall time. */
export interface SpeedOfClip {
  /** ffmpeg decoding the same clip at the same size to a reader that throws it away. */
  readonly decodeS: number
  readonly measureS: number
  /** Of measuring over decoding in the same run. */
  readonly ratio: number
  readonly rides: number
  /** Of the measuring process, without ffmpeg; null where it ran as a program of its own. */
  readonly peakMb: number | null
}

const FILE = join(import.meta.dirname, 'speed.json')

export function readSpeed(): SpeedRecord {
  return JSON.parse(readFileSync(FILE, 'utf8')) as SpeedRecord
}

export async function writeSpeed(record: SpeedRecord): Promise<void> {
  const rounded = (_: string, value: unknown) => (typeof value === 'number' ? Number(value.toPrecision(3)) : value)
  await writeFile(FILE, `${JSON.stringify(record, rounded, 2)}\n`)
}

/** README.md's part on speed. */
export function speedInWords({ measuredOn, cores, long, short }: SpeedRecord): string {
  const rows = [
    [`one minute of 1920 x 1080 at 60 frames a second, ${long.rides} rides`, long],
    [`its first ${short.lengthS} s, followed whole, start of the program included`, short],
  ] as const
  const table = markdownTable([
    ['clip', 'plain decode at the same size', 'measuring', 'times the decode'],
    ...rows.map(([what, { decodeS, measureS, ratio }]) => [
      what,
      `${decodeS.toFixed(1)} s`,
      `${measureS.toFixed(1)} s`,
      ratio.toFixed(2),
    ]),
  ])
  const memory =
    long.peakMb === null ? [] : ['', `The measuring process took ${long.peakMb.toFixed(0)} MB at most, ffmpeg apart.`]
  return [`Measured on ${dayInWords(measuredOn)} on ${cores} cores, medians of three runs:`, '', table, ...memory].join(
    '\n',
  )
}
