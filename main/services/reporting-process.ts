import type { Board } from '../../analysis/board/board.ts'
import { boardSizes } from '../../analysis/board-sizes/board-sizes.ts'
import { picturedSizes } from '../../analysis/board-sizes/picture-sizes.ts'
import { checkBuild } from '../../analysis/rules/build-check.ts'
import { fittedBoard } from '../../analysis/board-physics/board-check.ts'
import { attentionOf } from '../../analysis/progress/attention.ts'
import { type ComparedSide, type Comparison, compareSides } from '../../analysis/progress/compare.ts'
import { reportOf } from '../../analysis/progress/dog-report.ts'
import { checkShow } from '../../analysis/progress/show-check.ts'
import { showAnswer } from '../../analysis/progress/show-words.ts'
import { materialsIn } from '../../analysis/progress/board-materials.ts'
import { groupOf, splitsOf } from '../../analysis/progress/split.ts'
import { parseDroptest } from '../files/droptest-file.ts'
import { jsonText } from '../files/json-file.ts'
import type { Parsed } from '../files/parsed.ts'
import { aboutBoard } from '../outputs/progress/about-board.ts'
import { comparisonBytes } from '../outputs/progress/comparison-files.ts'
import type { LibraryRidesFile } from '../outputs/progress/library-rides.ts'
import { type DogOfRides, dogOfRides, parseRides, type Rides } from '../outputs/progress/rides-file.ts'
import { seasonFiles } from '../outputs/progress/season-files.ts'
import { boardCheckFile, type BoardCheckOrder } from '../outputs/report/board-check.ts'
import { boardPage } from '../outputs/report/board-page.tsx'
import { feelOfBoard } from '../outputs/report/feel-of-board.ts'
import { pageHtml } from '../outputs/report/page-html.tsx'
import { pagePdf } from '../outputs/report/page-pdf.ts'
import { showFiles } from '../outputs/progress/show-files.ts'
import { showQuestion } from '../outputs/progress/show-question.ts'
import type { SizesByRules } from '../contract/drops.ts'
import type { MarkedPicture } from './marked-pictures.ts'
import type { ComparedRides, FromReporting, ToReporting } from './reporting-messages.ts'
import { openWorkerPort } from './worker-port.ts'

/** The program of the reporting process: it works many rides out, one question at a time, until it is ended. */
const port = openWorkerPort()

port.onMessage((message) => {
  void answer(message as ToReporting)
})

async function answer(told: ToReporting): Promise<void> {
  let reply: FromReporting
  try {
    reply = await replyTo(told)
  } catch (error) {
    if (!(error instanceof Refusal)) console.error(error)
    const message = error instanceof Refusal ? error.message : 'This could not be worked out: please report it.'
    reply = { kind: 'failed', message }
  }
  port.post(reply)
}

/** A sentence for people. */
class Refusal extends Error {}

type BoardKind = 'board' | 'board-file' | 'feel'

async function replyTo(told: ToReporting): Promise<FromReporting> {
  switch (told.kind) {
    case 'board': {
      const order = boardOrder(told)
      // One fit serves all rule sets.
      const fitted = fittedBoard(order)
      return { kind: 'board', checks: told.rules.flatMap((rules) => boardCheckFile(rules, order, fitted) ?? []) }
    }
    case 'feel':
      return { kind: 'feel', feel: feelOfBoard(boardOrder(told)) }
    case 'sizes':
      return { kind: 'sizes', sizes: sizesOf(told) }
    case 'board-file':
      return { kind: 'board-file', base64: Buffer.from(await boardBytes(told)).toString('base64') }
    case 'season':
    case 'file':
    case 'show':
    case 'show-file':
    case 'attention':
    case 'compare':
    case 'compare-file':
      return replyOfRides(told)
  }
}

/** What the marks of clips show of a board. */
function seenIn({ board, marked }: { readonly board: Board; readonly marked: readonly MarkedPicture[] }) {
  return marked.flatMap(({ marks, picture }) => picturedSizes({ board, marks, picture, options: {} }) ?? [])
}

function sizesOf({ rules: all, ...told }: Extract<ToReporting, { kind: 'sizes' }>): readonly SizesByRules[] {
  const pictures = seenIn(told)
  return all.map((rules) => ({
    rules: { key: rules.key, name: rules.name },
    dimensions: checkBuild(told.board, rules),
    sizes: boardSizes(pictures, told.board, rules),
  }))
}

function boardOrder({ board, drops, rides, marked = [] }: Extract<ToReporting, { kind: BoardKind }>) {
  const records = drops.length === 0 ? [] : parsed(parseDroptest({ drops }, 'The library', board))
  return {
    drops: records,
    board,
    plankKg: null,
    counterweights: [],
    rides,
    pictures: seenIn({ board, marked }),
  } satisfies BoardCheckOrder
}

async function boardBytes(told: Extract<ToReporting, { kind: 'board-file' }>): Promise<Uint8Array | string> {
  const file = boardCheckFile(told.rules, boardOrder(told))
  if (file === null) throw new Refusal('This rule set prescribes no drop test: choose another one.')
  if (told.format === 'json') return jsonText(file)
  const page = boardPage(file, told.board, told)
  return told.format === 'html' ? pageHtml(page) : pagePdf(page)
}

async function replyOfRides(told: Exclude<ToReporting, { kind: BoardKind | 'sizes' }>): Promise<FromReporting> {
  const rides = parsed(parseRides(told.file, 'The library'))
  switch (told.kind) {
    case 'season': {
      const { season } = dogIn(rides, told.dog)
      const about = aboutBoard(told.file.boards)
      const splits = splitsOf(season, about)
      return {
        kind: 'season',
        season: {
          season,
          report: reportOf(season),
          splits,
          materials: materialsIn(splits, (board) => about(board).material),
          whole: groupOf(season.dog, season),
        },
      }
    }
    case 'file': {
      const bytes = await seasonFiles(dogIn(rides, told.dog)).make(told.name)
      return { kind: 'file', base64: Buffer.from(bytes).toString('base64') }
    }
    case 'show': {
      const dog = dogIn(rides, told.dog)
      const question = parsed(showQuestion(told.asked, rides, dog))
      const check = checkShow(dog.season.rides, question)
      const show = { question, check, answer: showAnswer(dog.season.dog, check, question), fallS: question.fallS }
      return { kind: 'show', show }
    }
    case 'show-file': {
      const dog = dogIn(rides, told.dog)
      const question = parsed(showQuestion(told.asked, rides, dog))
      const bytes = await showFiles(dog, question).make(told.name)
      return { kind: 'show-file', base64: Buffer.from(bytes).toString('base64') }
    }
    case 'attention':
      return { kind: 'attention', dogs: attentionOf(seasonsOf(told.file, rides)) }
    case 'compare':
      return { kind: 'compare', comparison: comparisonIn(told, rides) }
    case 'compare-file': {
      const bytes = await comparisonBytes(comparisonIn(told, rides), told.format)
      return { kind: 'compare-file', base64: Buffer.from(bytes).toString('base64') }
    }
  }
}

function comparisonIn({ sides }: ComparedRides, rides: Rides): Comparison {
  const [one, other] = sides.map(({ dog, board }) => {
    const { season } = dogIn(rides, dog)
    const ridden = board === null ? season.rides : season.rides.filter((ride) => ride.board === board)
    return { ...season, rides: ridden, name: board === null ? dog : `${dog} on ${board}` }
  }) as [ComparedSide, ComparedSide]
  return compareSides(one, other)
}

function seasonsOf({ dogs }: LibraryRidesFile, rides: Rides) {
  return dogs.map(({ name }) => dogIn(rides, name).season)
}

function dogIn(rides: Rides, name: string): DogOfRides {
  return parsed(dogOfRides(rides, name))
}

function parsed<T>(outcome: Parsed<T>): T {
  if (!outcome.ok) throw new Refusal(outcome.message)
  return outcome.value
}
