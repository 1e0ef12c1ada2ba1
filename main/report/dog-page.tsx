import { fallsAndLeavings } from '../../analysis/progress/fall-and-leaving.ts'
import { MEASURES } from '../../analysis/progress/measure-words.ts'
import type { DogReport, MeasureTrend } from '../../analysis/progress/report-parts.ts'
import { boardsOf, type Season } from '../../analysis/progress/season.ts'
import { seriesOf } from '../../analysis/progress/series.ts'
import { dayInWords } from '../../analysis/progress/sentences.ts'
import { isMeasured, quantityInWords } from '../../analysis/words/in-words.ts'
import { BoardSign } from '../../renderer/figures/board-sign.tsx'
import { SeasonLine } from '../../renderer/figures/season-line.tsx'
import { SeasonMeasure } from '../../renderer/figures/season-measure.tsx'
import { WaitingChart } from '../../renderer/figures/waiting-chart.tsx'
import { programVersion } from '../program-version.ts'
import type { Block, ReportPage } from './report-page.ts'

/** Half of a common plank, m: places are told from its pivot. */
const HALF_PLANK_M = 1.83
const FROM_PIVOT = ['leadPawAtTipM', 'bodyAtTipM']
/** Drawn one below the other; what the rides have of them. */
const DRAWN = ['holdBeforeGroundS', 'leavingMarginS', 'leadPawAtTipM', 'climbSpeedMps', 'entrySpeedMps', 'dropTimeS']

const CAUTIONS = [
  'These are measurements of films, not rulings: judges, coaches and the rule book decide.',
  'A dog that slows down, hesitates or jumps off may be sore or frightened: ask your vet, and go back to a lower board.',
  'Intervals hold the true value about 19 times in 20; as several measures are checked at once, chance is allowed for.',
]

/** The report of a dog's season: the story first, then the season, each measure, and what to try. */
export function dogPage(report: DogReport, season: Season): ReportPage {
  const boards = boardsOf(season.rides)
  const said = report.sentences.map(({ text }) => text)
  const nothing = report.note ?? `Nothing stands out in ${report.rides} rides.`
  const days = season.rides.flatMap(({ day }) => day ?? []).sort((a, b) => a - b)
  return {
    title: `${report.dog}’s season`,
    blocks: [
      ...(said.length > 0 ? said : [nothing]).map((text): Block => ({ kind: 'text', text, tone: 'plain' })),
      ...(report.byHand > 0
        ? [soft(`${report.byHand} of ${report.rides} rides were entered by hand; they are in no number below.`)]
        : []),
      ...seasonBlocks(season, boards, days),
      ...measureBlocks(report, season, boards, days),
      ...clockBlocks(report, season, boards),
      ...rateBlocks(report),
      section('All trends', [trendTable(report.trends)]),
      ...(report.hints.length === 0
        ? []
        : [section('For the next sessions', [list(report.hints.map(({ text, source }) => `${text} (${source})`))])]),
      section('Keep in mind', [{ kind: 'list', items: CAUTIONS, tone: 'soft' }]),
    ],
    foot: [`Tiphold ${programVersion}. All numbers: dog.json; all rides: rides.csv and rides.json.`],
  }
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
  const key = boards.map((name, k) => ({
    sign: (
      <svg className="season-figure" viewBox="0 0 16 16" aria-hidden="true">
        <BoardSign k={k} xPx={8} yPx={8} sizePx={5} />
      </svg>
    ),
    words: name,
  }))
  return [
    section('The season, ride by ride', [
      { kind: 'legend', signs: key },
      figure(<SeasonLine rides={season.rides} boards={boards} />),
      soft(
        'Above: the plank with its contact zones, a dot where the lead paw was at the tip, a cross on a missed contact, a flag for a show. Below: from when it held until it left, against the landing; an arrow where the clip ended first.',
      ),
    ]),
  ]
}

function measureBlocks(
  report: DogReport,
  season: Season,
  boards: readonly string[],
  days: readonly number[],
): readonly Block[] {
  return DRAWN.flatMap((measure): Block[] => {
    const trend = report.trends.find((one) => one.measure === measure)
    const series = seriesOf(measure, season.rides)
    if (trend === undefined || series.value.length < 3) return []
    const fromPivot = FROM_PIVOT.includes(measure)
    const boardOf = series.rideIndex.map((index) => boards.indexOf(season.rides[index]!.board ?? ''))
    const drawing = { series, trend, boardOf, days, shift: fromPivot ? HALF_PLANK_M : 0 }
    const name = `${MEASURES[measure]!.name}${fromPivot ? ', from the pivot of a 3.66 m plank' : ''}`
    return [section(name, [figure(<SeasonMeasure {...drawing} />), soft(trendInWords(trend))])]
  })
}

function clockBlocks({ waitsOrCounts, dog }: DogReport, season: Season, boards: readonly string[]): readonly Block[] {
  const known = fallsAndLeavings(season.rides)
  if (known.rides.length < 3) return []
  const { slope } = waitsOrCounts
  const answer = isMeasured(slope)
    ? `Slope ${slope.value.toFixed(2)} (between ${slope.ci95[0].toFixed(2)} and ${slope.ci95[1].toFixed(2)}): 1 means that ${dog} waits for the landing, 0 that it leaves by its own clock. ${waitsOrCounts.verdict === 'too-few' ? 'These rides do not tell them apart yet.' : ''}`
    : slope.kind === 'withheld'
      ? slope.detail
      : ''
  return [
    section(`Does ${dog} wait for the landing, or count?`, [
      figure(<WaitingChart known={known} boards={boards} />),
      { kind: 'text', text: answer.trim(), tone: 'plain' },
    ]),
  ]
}

const RATE_NAMES = {
  early: 'Left early',
  'up-missed': 'Up contact missed',
  'down-missed': 'Down contact missed',
  'criterion-met': 'Criterion met',
}

function rateBlocks(report: DogReport): readonly Block[] {
  const rows = [{ board: 'All boards', rates: report.rates }, ...report.byBoard].flatMap(({ board, rates }) =>
    rates.map(({ what, count, of, ci95, undecided }) => [
      board,
      RATE_NAMES[what],
      `${count} of ${of}${undecided === 0 ? '' : `, ${undecided} not sure`}`,
      `${Math.round(100 * ci95[0])} to ${Math.round(100 * ci95[1])} % in the long run`,
    ]),
  )
  return rows.length === 0
    ? []
    : [section('How often', [{ kind: 'table', head: ['Board', 'What', 'Rides', 'Interval'], rows }])]
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

function trendInWords({ measure, perMonth, verdict, change }: MeasureTrend): string {
  if (!isMeasured(perMonth)) return perMonth.kind === 'withheld' ? perMonth.detail : ''
  const { told } = MEASURES[measure]!
  const fine = { ...told, decimals: told.decimals + 1 }
  const range = `${quantityInWords(perMonth.value, fine)} a month, between ${quantityInWords(perMonth.ci95[0], fine)} and ${quantityInWords(perMonth.ci95[1], fine)}`
  const since =
    change === null ? '' : ` Changed between ${dayInWords(change.ci95[0])} and ${dayInWords(change.ci95[1])}.`
  const word = { unclear: 'Not clear: ', steady: 'Steady: ' }[verdict as string] ?? ''
  return `${word}${range}.${since}`
}
