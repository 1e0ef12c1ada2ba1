import { useState } from 'react'
import type { DogSeason } from '../../main/contract/seasons.ts'
import { isMeasured, quantityInWords } from '../../analysis/words/in-words.ts'
import { boardMaterialsInWords } from '../../analysis/progress/board-materials.ts'
import { frequenciesInWords } from '../../analysis/progress/frequency-words.ts'
import { haltsInWords } from '../../analysis/progress/halts.ts'
import type { Difference } from '../../analysis/progress/compare.ts'
import { differenceInWords } from '../../analysis/progress/compare-words.ts'
import { MEASURES } from '../../analysis/progress/measure-words.ts'
import type { Rate } from '../../analysis/progress/rates.ts'
import { RATE_WORDS, shiftOf } from '../../analysis/progress/report-words.ts'
import type { SplitBy, SplitGroup } from '../../analysis/progress/split.ts'
import { IntervalBar } from '../figures/interval-bar.tsx'
import { Choice } from '../look/choice.tsx'
import { figureId } from './season-figures.tsx'

const NAMES: Readonly<Record<SplitBy | 'whole', string>> = {
  whole: 'All rides',
  board: 'By board',
  material: 'By material',
  feel: 'By feel of the board',
  surface: 'By ground',
  purpose: 'Training or show',
}
const SHOWN = ['holdBeforeGroundS', 'leavingMarginS', 'leadPawAtTipM', 'climbSpeedMps', 'dropTimeS', 'bounceM'] as const

/** How often, and how much as a rule: over all rides, or told apart by board, material, ground, training or show. */
export function Splits({ of: { splits, whole, report, materials } }: { readonly of: DogSeason }) {
  const [by, setBy] = useState<SplitBy | 'whole'>('whole')
  const groups = splits.find((split) => split.by === by)?.groups ?? [{ ...whole, name: 'All rides' }]
  const sentences = [
    ...haltsInWords(report.halts),
    ...frequenciesInWords(report.dog, report.frequencies),
    ...boardMaterialsInWords(materials),
  ]
  const options = (['whole', ...splits.map((split) => split.by)] as const).map((key) => ({ key, name: NAMES[key] }))
  return (
    <section className="season-part" aria-labelledby="season-rates" id={figureId('rates')} tabIndex={-1}>
      <h2 id="season-rates">How often, and how much</h2>
      {options.length === 1 ? null : <Choice label="Group by" options={options} selected={by} onSelect={setBy} />}
      <GroupsTable groups={groups} />
      {sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <p className="soft small">
        A bar is the 95 % interval, a dot the value. Where bars overlap a lot, the difference may be chance. Groups
        differ in more than their name: a board may have been met late in the season.
        {by === 'feel' ? ' Feel is how long the board falls under 10 kg in the middle of the down contact.' : ''}
      </p>
    </section>
  )
}

export interface GroupsTableProps {
  readonly groups: readonly SplitGroup[]
  /** Of the second group less the first, a column of its own; absent: none is told. */
  readonly differences?: readonly Difference[]
}

/** Groups of rides side by side. */
export function GroupsTable({ groups, differences }: GroupsTableProps) {
  const rates = (Object.keys(RATE_WORDS) as Rate['what'][]).filter((what) =>
    groups.some((group) => group.rates.some((rate) => rate.what === what)),
  )
  const measures = SHOWN.filter((measure) => groups.some(({ levels }) => levels.some((one) => one.measure === measure)))
  return (
    <div className="table-scroll" role="region" aria-label="Groups of rides" tabIndex={0}>
      <table className="table groups">
        <thead>
          <tr>
            <td />
            {groups.map(({ name, rides }) => (
              <th key={name} scope="col">
                {name}
                <span className="soft small">{rides === 1 ? '1 filmed ride' : `${rides} filmed rides`}</span>
              </th>
            ))}
            {differences === undefined ? null : (
              <th scope="col">
                Difference
                <span className="soft small">second less first</span>
              </th>
            )}
          </tr>
        </thead>
        <tbody>
          {rates.map((what) => (
            <tr key={what}>
              <th scope="row">{RATE_WORDS[what]}</th>
              {groups.map(({ name, rates: all }) => (
                <td key={name}>
                  <RateCell rate={all.find((rate) => rate.what === what) ?? null} />
                </td>
              ))}
              <DifferenceCell what={what} differences={differences} />
            </tr>
          ))}
          {measures.map((measure) => (
            <tr key={measure}>
              <th scope="row">{MEASURES[measure]!.name}</th>
              {groups.map((group) => (
                <td key={group.name}>
                  <LevelCell measure={measure} group={group} domain={domainOf(measure, groups)} />
                </td>
              ))}
              <DifferenceCell what={measure} differences={differences} />
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

interface DifferenceCellProps {
  readonly what: string
  readonly differences: readonly Difference[] | undefined
}

function DifferenceCell({ what, differences }: DifferenceCellProps) {
  if (differences === undefined) return null
  const found = differences.find((one) => one.what === what)
  if (found === undefined) return <td />
  const { difference } = found
  const { value, interval, verdict } = differenceInWords(found)
  return (
    <td>
      {isMeasured(difference) ? (
        <IntervalBar value={difference.value} ci95={difference.ci95} domain={aboutZero(difference.ci95)} />
      ) : null}
      {value === '' ? null : <span>{verdict === 'too close to call' ? value : <strong>{value}</strong>}</span>}
      <span className="soft small">{verdict === '' ? interval : `${interval}, ${verdict}`}</span>
    </td>
  )
}

/** 0 in the middle. */
function aboutZero([lo, hi]: readonly [number, number]): readonly [number, number] {
  const wide = 1.06 * Math.max(Math.abs(lo), Math.abs(hi), 1e-9)
  return [-wide, wide]
}

function RateCell({ rate }: { readonly rate: Rate | null }) {
  if (rate === null) return <span className="soft">not known</span>
  const { count, of, ci95, undecided } = rate
  const percent = (share: number) => Math.round(100 * share)
  return (
    <>
      {of === 0 ? null : <IntervalBar value={count / of} ci95={ci95} domain={[0, 1]} />}
      <span>
        {count} of {of}
      </span>
      <span className="soft small">
        {percent(ci95[0])} to {percent(ci95[1])} %{undecided === 0 ? '' : `, ${undecided} not sure`}
      </span>
    </>
  )
}

interface LevelCellProps {
  readonly measure: string
  readonly group: SplitGroup
  /** null: there is nothing beside it to compare with. */
  readonly domain: readonly [number, number] | null
}

function LevelCell({ measure, group, domain }: LevelCellProps) {
  const level = group.levels.find((one) => one.measure === measure)
  if (level === undefined) return <span className="soft">not measured</span>
  const estimate = level.level
  if (!isMeasured(estimate))
    return <span className="soft small">{estimate.kind === 'withheld' ? estimate.detail : ''}</span>
  const { unit } = MEASURES[measure]!
  const shift = shiftOf(measure)
  const words = (value: number) => quantityInWords(value - shift, unit)
  return (
    <>
      {domain === null ? null : <IntervalBar value={estimate.value} ci95={estimate.ci95} domain={domain} />}
      <span>{words(estimate.value)}</span>
      <span className="soft small">
        {words(estimate.ci95[0])} to {words(estimate.ci95[1])}
      </span>
    </>
  )
}

/** Bars of one row have one scale. */
function domainOf(measure: string, groups: readonly SplitGroup[]): readonly [number, number] | null {
  if (groups.length < 2) return null
  const ends = groups.flatMap(({ levels }) => {
    const level = levels.find((one) => one.measure === measure)?.level
    return level !== undefined && isMeasured(level) ? [...level.ci95] : []
  })
  if (ends.length === 0) return null
  const [lo, hi] = [Math.min(...ends), Math.max(...ends)]
  const room = 0.06 * Math.max(hi - lo, 1e-9)
  return [lo - room, hi + room]
}
