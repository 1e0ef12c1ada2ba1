import { type BoardMaterial, boardMaterialsInWords } from '../../../analysis/progress/board-materials.ts'
import { fallsAndLeavings } from '../../../analysis/progress/fall-and-leaving.ts'
import { frequenciesInWords } from '../../../analysis/progress/frequency-words.ts'
import { haltName } from '../../../analysis/progress/halts.ts'
import { MEASURES } from '../../../analysis/progress/measure-words.ts'
import type { DogReport, MeasureTrend } from '../../../analysis/progress/report-parts.ts'
import {
  clockInWords,
  DRAWN_MEASURES,
  figureName,
  RATE_WORDS,
  SEASON_CAUTIONS,
  shiftOf,
  trendInWords,
  nothingInWords,
} from '../../../analysis/progress/report-words.ts'
import { rideName } from '../../../analysis/progress/ride-words.ts'
import { boardsOf, dayText, type Season, type SeasonRide } from '../../../analysis/progress/season.ts'
import type { Split } from '../../../analysis/progress/split.ts'
import { dayInWords } from '../../../analysis/progress/sentences.ts'
import { seriesOf } from '../../../analysis/progress/series.ts'
import type { ReviewLine } from '../../../analysis/review/review-words.ts'
import { BoardSign } from '../../../renderer/figures/board-sign.tsx'
import { SeasonLine } from '../../../renderer/figures/season-line.tsx'
import { SeasonMeasure } from '../../../renderer/figures/season-measure.tsx'
import { WaitingChart } from '../../../renderer/figures/waiting-chart.tsx'
import { programVersion } from '../../program-version.ts'
import { splitBlocks } from './split-blocks.ts'
import type { Block, ReportPage } from './report-page.ts'

/** What was said of one ride, line by line. */
export interface SaidOfRide {
  readonly ride: SeasonRide
  /** One at least. */
  readonly lines: readonly ReviewLine[]
}

/**
 * The report of a dog's season: the story first, then the season, each measure, what was said, and what to try.
 *
 * @param remarks on where the rides come from, above everything else
 * @param said comments on the rides
 * @param splits the season told apart by what rides have in common
 * @param materials what boards behave like
 */
export function dogPage(
  report: DogReport,
  season: Season,
  {
    remarks = [],
    said: comments = [],
    splits = [],
    materials = [],
  }: {
    readonly remarks?: readonly string[]
    readonly said?: readonly SaidOfRide[]
    readonly splits?: readonly Split[]
    readonly materials?: readonly BoardMaterial[]
  } = {},
): ReportPage {
  const boards = boardsOf(season.rides)
  const said = report.sentences.map(({ text }) => text)
  const nothing = nothingInWords(report)
  const days = season.rides.flatMap(({ day }) => day ?? []).sort((a, b) => a - b)
  return {
    title: titleOf(report.dog, days),
    blocks: [
      ...remarks.map(soft),
      ...(said.length > 0 ? said : [nothing]).map((text): Block => ({ kind: 'text', text, tone: 'plain' })),
      ...(report.byHand > 0
        ? [soft(`${report.byHand} of ${report.rides} rides were entered by hand; they are in no number below.`)]
        : []),
      ...seasonBlocks(season, boards, days),
      ...measureBlocks(report, season, boards, days),
      ...clockBlocks(report, season, boards),
      ...rateBlocks(report),
      ...splitSection(splits, boardMaterialsInWords(materials)),
      section('All trends', [trendTable(report.trends)]),
      ...(report.hints.length === 0
        ? []
        : [section('For the next sessions', [list(report.hints.map(({ text, source }) => `${text} (${source})`))])]),
      ...commentBlocks(comments),
      section('Keep in mind', [{ kind: 'list', items: SEASON_CAUTIONS, tone: 'soft' }]),
    ],
    foot: [`Tiphold ${programVersion}. All numbers: dog.json; all rides: rides.csv and rides.json.`],
  }
}

/** Whose rides these are, and from when to when: "Kestrel, 3 March to 9 June 2026". */
function titleOf(dog: string, days: readonly number[]): string {
  const [first, last] = [days[0], days.at(-1)]
  if (first === undefined || last === undefined) return `${dog}’s rides`
  const [from, to] = [dayText(first), dayText(last)]
  const year = to.slice(0, 4)
  if (from === to) return `${dog}’s rides, ${dayInWords(to)} ${year}`
  const fromYear = from.slice(0, 4) === year ? '' : ` ${from.slice(0, 4)}`
  return `${dog}’s rides, ${dayInWords(from)}${fromYear} to ${dayInWords(to)} ${year}`
}

function section(title: string, blocks: readonly Block[]): Block {
  return { kind: 'section', title, blocks }
}

function soft(text: string): Block {
  return { kind: 'text', text, tone: 'soft' }
}

function list(items: readonly string[]): Block {
  return { kind: 'list', items, tone: 'plain' }
}

function figure(element: Extract<Block, { kind: 'figure' }>['figure']): Block {
  return { kind: 'figure', figure: element, caption: null }
}

function seasonBlocks(season: Season, boards: readonly string[], days: readonly number[]): readonly Block[] {
  if (days.length === 0) return []
  return [
    section('The season, ride by ride', [
      boardLegend(boards),
      figure(<SeasonLine rides={season.rides} boards={boards} />),
      soft(SEASON_LINE_WORDS),
    ]),
  ]
}

/** What a line of rides shows. */
export const SEASON_LINE_WORDS =
  'Above: the plank with its contact zones, a dot where the lead paw was at the tip, a cross on a missed contact, a flag for a show. Below: from when it held until it left, against the landing; an arrow where the clip ended first.'

/** The signs of boards in a line of rides. */
export function boardLegend(boards: readonly string[]): Block {
  const signs = boards.map((name, k) => ({
    sign: (
      <svg className="season-figure" viewBox="0 0 16 16" aria-hidden="true">
        <BoardSign k={k} xPx={8} yPx={8} sizePx={5} />
      </svg>
    ),
    words: name,
  }))
  return { kind: 'legend', signs }
}

function measureBlocks(
  report: DogReport,
  season: Season,
  boards: readonly string[],
  days: readonly number[],
): readonly Block[] {
  return DRAWN_MEASURES.flatMap((measure): Block[] => {
    const trend = report.trends.find((one) => one.measure === measure)
    const series = seriesOf(measure, season.rides)
    if (trend === undefined || series.value.length < 3) return []
    const shift = shiftOf(measure)
    const boardOf = series.rideIndex.map((index) => boards.indexOf(season.rides[index]!.board ?? ''))
    const drawing = { series, trend, boardOf, days, shift }
    const name = figureName(measure)
    return [section(name, [figure(<SeasonMeasure {...drawing} />), soft(trendInWords(trend))])]
  })
}

function clockBlocks({ waitsOrCounts, dog }: DogReport, season: Season, boards: readonly string[]): readonly Block[] {
  const known = fallsAndLeavings(season.rides)
  if (known.rides.length < 3) return []
  const answer = clockInWords({ waitsOrCounts, dog })
  return [
    section(`Does ${dog} wait for the landing, or count?`, [
      figure(<WaitingChart known={known} boards={boards} />),
      { kind: 'text', text: answer, tone: 'plain' },
    ]),
  ]
}

function rateBlocks(report: DogReport): readonly Block[] {
  const rateRows = [{ board: 'All boards', rates: report.rates }, ...report.byBoard].flatMap(({ board, rates }) =>
    rates.map(({ what, count, of, ci95, undecided }) => [
      board,
      RATE_WORDS[what],
      `${count} of ${of}${undecided === 0 ? '' : `, ${undecided} not sure`}`,
      `${Math.round(100 * ci95[0])} to ${Math.round(100 * ci95[1])} % in the long run`,
    ]),
  )
  const haltRows = report.halts.map((halt) => [
    'All boards',
    haltName(halt),
    `${halt.count} of ${halt.of}`,
    `${Math.round(100 * halt.ci95[0])} to ${Math.round(100 * halt.ci95[1])} % in the long run`,
  ])
  const rows = [...rateRows, ...haltRows]
  return rows.length === 0
    ? []
    : [
        section('How often', [
          { kind: 'table', head: ['Board', 'What', 'Rides', 'Interval'], rows },
          ...frequenciesInWords(report.dog, report.frequencies).map(soft),
        ]),
      ]
}

/** The newest ride first. */
function commentBlocks(said: readonly SaidOfRide[]): readonly Block[] {
  const facts = said
    .toReversed()
    .flatMap(({ ride, lines }) =>
      lines.map(({ who, when, what }) => ({ name: rideName(ride), text: `${who}, ${when}: ${what}` })),
    )
  return facts.length === 0 ? [] : [section('Comments', [{ kind: 'facts', facts }])]
}

function splitSection(splits: readonly Split[], ofBoards: readonly string[]): readonly Block[] {
  const tables = splitBlocks(splits)
  if (tables.length + ofBoards.length === 0) return []
  const caution =
    'Where intervals overlap a lot, the difference may be chance. Groups differ in more than their name: a board may have been met late in the season.'
  return [section('Rides told apart', [...tables, ...ofBoards.map(soft), soft(caution)])]
}

function trendTable(trends: readonly MeasureTrend[]): Block {
  const rows = trends.map((trend) => [
    MEASURES[trend.measure]!.name,
    String(trend.rides),
    trend.verdict,
    trendInWords(trend),
  ])
  return { kind: 'table', head: ['Measure', 'Rides', 'Verdict', 'Change'], rows }
}
