import type { Estimate } from '../../../analysis/estimate.ts'
import {
  checkShow,
  FINE_BELOW,
  RISK_ABOVE,
  type ShowCheck,
  type ShowQuestion,
} from '../../../analysis/progress/show-check.ts'
import { showAnswer } from '../../../analysis/progress/show-words.ts'
import { jsonText } from '../../files/json-file.ts'
import { programVersion } from '../../program-version.ts'
import { pageHtml } from '../report/page-html.tsx'
import { pagePdf } from '../report/page-pdf.ts'
import { showPage } from '../report/show-page.tsx'
import { csvCell } from './csv-cell.ts'
import { inventedRemark } from './invented-remark.ts'
import type { DogOfRides } from './rides-file.ts'

/** The files that a show check is written to, in the order in which they are written. */
export const SHOW_FILES = ['showcheck.json', 'showcheck.csv', 'showcheck.html', 'showcheck.pdf'] as const
export type ShowFile = (typeof SHOW_FILES)[number]

/** Makes the files of one show check; all of them tell the same numbers. */
export interface ShowFiles {
  readonly json: ReturnType<typeof showcheckFile>
  make(file: ShowFile): Promise<Uint8Array>
}

export function showFiles(dog: DogOfRides, question: ShowQuestion): ShowFiles {
  const { season } = dog
  const check = checkShow(season.rides, question)
  const json = showcheckFile(season.dog, check, question)
  const page = showPage(check, question, season, inventedRemark(dog))
  const text = (content: string) => Promise.resolve(new TextEncoder().encode(content))
  return {
    json,
    make(file) {
      switch (file) {
        case 'showcheck.json':
          return text(jsonText(json))
        case 'showcheck.csv':
          return text(showCsv(season.dog, check, question))
        case 'showcheck.html':
          return text(pageHtml(page))
        case 'showcheck.pdf':
          return pagePdf(page)
      }
    },
  }
}

/** A show check as `showcheck.json` holds it; its schema is `main/files/showcheck.schema.json`. */
function showcheckFile(dog: string, check: ShowCheck, question: ShowQuestion) {
  const { earlyChance, missedDownChance, restsOn, verdict, biggestLever, rideIndices } = check
  return {
    schema: 'tiphold.showcheck/1',
    program: { version: programVersion },
    dog,
    board: question.board,
    dropTimeS: question.fallS,
    rules: question.rules.key,
    earlyChance,
    missedDownChance,
    restsOn: { ...restsOn, rideIndices },
    verdict,
    limits: { fineBelow: FINE_BELOW, riskAbove: RISK_ABOVE },
    biggestLever,
    ...showAnswer(dog, check, question),
  } as const
}

/** A line for each chance, as a share of rides. What is not known is empty. */
function showCsv(dog: string, check: ShowCheck, { board, fallS, rules }: ShowQuestion): string {
  const head = [
    ...['dog', 'board', 'fall of the board (s)', 'rules', 'verdict', 'what', 'unit'],
    ...['chance', 'chance low 95 %', 'chance high 95 %'],
    ...['filmed rides it rests on', 'boards', 'of the rides at a show'],
  ]
  const { restsOn } = check
  const lineOf = (what: string, chance: Estimate) => [
    ...[dog, board ?? '', fallS ?? '', rules.name, check.verdict, what, 'share of rides'],
    ...(chance.kind === 'measured' ? [chance.value, ...chance.ci95] : ['', '', '']),
    ...[restsOn.rides, restsOn.boards, restsOn.shows],
  ]
  const lines = [
    head,
    lineOf('leaves early', check.earlyChance),
    lineOf('misses the down contact', check.missedDownChance),
  ]
  return lines.map((line) => line.map(rounded).map(csvCell).join(',')).join('\r\n') + '\r\n'
}

function rounded(value: string | number): string | number {
  return typeof value === 'number' ? Number(value.toFixed(5)) : value
}
