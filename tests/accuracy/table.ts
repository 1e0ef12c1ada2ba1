import type { Compared } from './compare.ts'
import type { AccuracyRecord, RecordedClips } from './record.ts'
import type { ClipScore } from './score.ts'

/** How a value is named and written. */
interface Row {
  readonly name: string
  readonly key: string
  readonly kind: ClipScore['kind']
  /** Steps of the written unit in one s or m. */
  readonly scale: number
  readonly unit: string
  readonly digits: number
  readonly inFrames: boolean
}

const time = { scale: 1000, unit: 'ms', digits: 0, inFrames: false }
/** Moments of the board are seen in every frame: how they compare with stepping through the clip. */
const boardTime = { ...time, digits: 1, inFrames: true }
const place = { scale: 100, unit: 'cm', digits: 1, inFrames: false }
const ROWS: readonly Row[] = [
  { name: 'tip start', key: 'tipStartS', kind: 'ride', ...boardTime },
  { name: 'landing', key: 'groundedS', kind: 'ride', ...boardTime },
  { name: 'landing bang heard', key: 'bangHeardS', kind: 'ride', ...time, digits: 1 },
  { name: 'lead paw at the tip', key: 'leadPawAtTipM', kind: 'ride', ...place },
  { name: 'body at the tip', key: 'bodyAtTipM', kind: 'ride', ...place },
  { name: 'held before the landing', key: 'holdBeforeGroundS', kind: 'ride', ...time },
  { name: 'left the plank', key: 'leftS', kind: 'ride', ...time },
  { name: 'first paw on', key: 'firstOnS', kind: 'ride', ...time },
  { name: 'drop test: fall from letting go', key: 'fallFromReleasedS', kind: 'drop', ...time },
  { name: 'drop test: fall from placing', key: 'fallFromPlacedS', kind: 'drop', ...time },
]

/** What README.md says of accuracy: written there by the bench, and compared with it by a test. */
export function accuracyInWords({ sample, shared }: AccuracyRecord): string {
  return [
    `The clips of this repository, drawn by our own generator, ${counted(sample)}:`,
    table(sample),
    ...(shared === null
      ? []
      : [
          `Clips by others, not part of this repository (most of them rendered, some filmed in part), ${counted(shared)}. ` +
            'Development looked at these clips, so expect somewhat less on yours:',
          table(shared),
        ]),
  ].join('\n\n')
}

function counted({ clips, failed, measuredOn }: RecordedClips): string {
  const rides = clips.filter(({ kind }) => kind === 'ride').length
  const drops = clips.length - rides
  const lost = failed.length === 0 ? '' : `, ${failed.length} more could not be measured`
  return `${plural(rides, 'ride')} and ${plural(drops, 'drop test')}${lost}, measured on ${dayInWords(measuredOn)}`
}

function table(recorded: RecordedClips): string {
  const rows = [
    ['measure', 'median error', 'worst', 'true value inside the 95 % interval'],
    ...ROWS.flatMap((row) => valueRow(row, recorded.clips)),
    angleRow(recorded.clips),
    ...footfallRows(recorded.clips),
    verdictRow(recorded.clips),
  ]
  return markdownTable(rows)
}

/** A table of Markdown as prettier lays it out; the first row is its head. */
export function markdownTable(rows: readonly (readonly string[])[]): string {
  const widths = rows[0]!.map((_, column) => Math.max(...rows.map((row) => row[column]!.length)))
  const lines = rows.map((row) => `| ${row.map((cell, column) => cell.padEnd(widths[column]!)).join(' | ')} |`)
  const rule = `| ${widths.map((width) => '-'.repeat(width)).join(' | ')} |`
  return [lines[0], rule, ...lines.slice(1)].join('\n')
}

function valueRow(row: Row, clips: readonly ClipScore[]): string[][] {
  const all = clips
    .filter(({ kind }) => kind === row.kind)
    .flatMap(({ values, frameS }): { compared: Compared; frameS: number }[] => {
      const compared = values[row.key]
      return compared === undefined || compared.state === 'none' ? [] : [{ compared, frameS }]
    })
  if (all.length === 0) return []
  const errors = all
    .flatMap(({ compared, frameS }) =>
      compared.state === 'measured' ? [{ size: Math.abs(compared.error), frameS, isInside: compared.isInside95 }] : [],
    )
    .sort((a, b) => a.size - b.size)
  const count = (state: Compared['state']) => all.filter(({ compared }) => compared.state === state).length
  const worst = errors.at(-1)
  const write = (size: number) => `${(row.scale * size).toFixed(row.digits)} ${row.unit}`
  const frames = worst !== undefined && row.inFrames ? ` (${(worst.size / worst.frameS).toFixed(2)} frames)` : ''
  return [
    [
      row.name,
      errors.length === 0 ? '' : write(median(errors.map(({ size }) => size))),
      worst === undefined ? '' : write(worst.size) + frames,
      [
        `${errors.filter(({ isInside }) => isInside).length} of ${errors.length}`,
        ...(count('withheld') === 0 ? [] : [`${count('withheld')} not given`]),
        ...(count('invented') === 0 ? [] : [`${count('invented')} given where there is none`]),
      ].join('; '),
    ],
  ]
}

function angleRow(clips: readonly ClipScore[]): string[] {
  const errors = clips.flatMap(({ angleError95Deg }) => (angleError95Deg === null ? [] : [angleError95Deg]))
  return ['board angle, 95 % of frames', ...[median(errors), Math.max(...errors)].map((e) => `${e.toFixed(2)} deg`), '']
}

function footfallRows(clips: readonly ClipScore[]): string[][] {
  const scores = clips.flatMap(({ footfalls }) => (footfalls === null ? [] : [footfalls]))
  if (scores.length === 0) return []
  const sum = (key: keyof (typeof scores)[number]) => scores.reduce((total, score) => total + score[key], 0)
  const [wanted, given, matched] = [sum('wanted'), sum('given'), sum('matched')]
  return [
    ['footfalls', `${matched} of ${wanted} found`, `${given - matched} of ${given} given are not in the truth`, ''],
  ]
}

function verdictRow(clips: readonly ClipScore[]): string[] {
  const all = clips.flatMap(({ verdicts }) => Object.values(verdicts))
  const count = (score: string) => all.filter((one) => one === score).length
  return [
    'verdicts',
    `${count('right')} of ${all.length} right`,
    `${count('unsure')} unsure, ${count('wrong')} wrong`,
    '',
  ]
}

/** The middle one; of an even number the mean of the middle two. */
function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b)
  const middle = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2
}

function plural(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? '' : 's'}`
}

export function dayInWords(day: string): string {
  return new Intl.DateTimeFormat('en-GB', { dateStyle: 'long', timeZone: 'UTC' }).format(new Date(day))
}
