import { ruleSetAmong } from '../../analysis/rules/own-rules.ts'
import type { Handlers, InputOf } from '../contract/calls.ts'
import { problem, success, type Outcome } from '../contract/outcome.ts'
import type { ComparisonSaved, SeasonFormat } from '../contract/seasons.ts'
import type { Library } from '../library/library.ts'
import { libraryRides, type LibraryRide, namesIn } from '../outputs/progress/library-rides.ts'
import { linesIn } from '../outputs/progress/said-of-rides.ts'
import type { SeasonFile } from '../outputs/progress/season-files.ts'
import type { BoardFeels } from './board-feels.ts'
import { noSuchDog } from './dogs-services.ts'
import type { ComparedRides, ToReporting } from './reporting-messages.ts'
import type { ReportingService } from './reporting-service.ts'

export type SeasonsHandlers = Pick<
  Handlers,
  | 'seasons.get'
  | 'seasons.checkShow'
  | 'seasons.saveShow'
  | 'seasons.save'
  | 'seasons.compare'
  | 'seasons.saveComparison'
  | 'seasons.whoNeedsAttention'
>

type ShowOrder = Omit<Extract<ToReporting, { kind: 'show' }>, 'kind'>

const FILES: Readonly<Record<SeasonFormat, readonly [SeasonFile, mediaType: string]>> = {
  html: ['dog.html', 'text/html'],
  pdf: ['dog.pdf', 'application/pdf'],
  csv: ['rides.csv', 'text/csv'],
  json: ['dog.json', 'application/json'],
  rides: ['rides.json', 'application/json'],
}

const MEDIA: Readonly<Record<ComparisonSaved, string>> = {
  html: 'text/html',
  pdf: 'application/pdf',
  csv: 'text/csv',
  json: 'application/json',
}

/** What a dog's rides say together. */
export function seasonsService(library: Library, reporting: ReportingService, feels: BoardFeels): SeasonsHandlers {
  const read = libraryRides(library, (boardId) => feels.known().get(boardId)?.feelS ?? null)

  /** The dog's name as its file of rides has it. */
  function nameOf(dogId: string): Outcome<string> {
    const name = namesIn(library).dogs.get(dogId)
    return name === undefined ? problem('not-found', noSuchDog) : success(name)
  }

  async function compared({ one, other }: InputOf<'seasons.compare'>): Promise<Outcome<ComparedRides>> {
    const [first, second] = [nameOf(one.dogId), nameOf(other.dogId)]
    if (!first.ok) return first
    if (!second.ok) return second
    const file = await read({ dogIds: [...new Set([one.dogId, other.dogId])] })
    const sides = [
      { dog: first.value, board: one.board },
      { dog: second.value, board: other.board },
    ] as const
    return success({ file, sides })
  }

  /** What the reporting process is asked about a show. */
  async function showOrder({ dogId, rules: key, board }: InputOf<'seasons.checkShow'>): Promise<Outcome<ShowOrder>> {
    const dog = nameOf(dogId)
    if (!dog.ok) return dog
    const rules = ruleSetAmong(key, library.settings.get().ownRules)
    if (rules === null) return problem('not-found', 'Your own rules are no longer in the settings: choose others.')
    const boardName = 'boardId' in board ? namesIn(library).boards.get(board.boardId) : undefined
    if ('boardId' in board && boardName === undefined)
      return problem('not-found', 'This board is no longer in the library: choose another one.')
    const file = await read({ dogIds: [dogId], ...('boardId' in board ? { boardId: board.boardId } : {}) })
    const asked = 'boardId' in board ? { board: boardName!, rules } : { dropTimeS: board.dropTimeS, rules }
    const isFelt = (name: unknown) => file.boards.some((one) => one.name === name && one.feelS?.kind === 'measured')
    const isKnown =
      boardName === undefined ||
      file.rides.some((ride) => ride['board'] === boardName) ||
      (isFelt(boardName) && file.rides.some((ride) => isFelt(ride['board'])))
    if (!isKnown)
      return problem(
        'not-ready',
        `Nothing tells yet how fast ${boardName} falls: film a drop test of it, or say how long it takes to land.`,
      )
    return success({ file, dog: dog.value, asked })
  }

  return {
    'seasons.compare': async (input) => {
      const rides = await compared(input)
      if (!rides.ok) return rides
      const answer = await reporting.ask({ kind: 'compare', ...rides.value })
      return answer.ok ? success(answer.value.comparison) : answer
    },

    'seasons.saveComparison': async ({ format, ...input }) => {
      const rides = await compared(input)
      if (!rides.ok) return rides
      const answer = await reporting.ask({ kind: 'compare-file', ...rides.value, format })
      if (!answer.ok) return answer
      return success({ fileName: `compare.${format}`, mediaType: MEDIA[format], base64: answer.value.base64 })
    },

    'seasons.get': async ({ dogId }) => {
      const dog = nameOf(dogId)
      if (!dog.ok) return dog
      const file = await read({ dogIds: [dogId] })
      const answer = await reporting.ask({ kind: 'season', file, dog: dog.value })
      if (!answer.ok) return answer
      return success({ dogId, ...answer.value.season, rides: file.rides.map(rideOfSeason) })
    },

    'seasons.checkShow': async (input) => {
      const order = await showOrder(input)
      if (!order.ok) return order
      const answer = await reporting.ask({ kind: 'show', ...order.value })
      return answer.ok ? success(answer.value.show) : answer
    },

    'seasons.saveShow': async ({ format, ...input }) => {
      const order = await showOrder(input)
      if (!order.ok) return order
      const name = `showcheck.${format}` as const
      const answer = await reporting.ask({ kind: 'show-file', ...order.value, name })
      if (!answer.ok) return answer
      const fileName = `${fileStem(order.value.dog)}-${name}`
      return success({ fileName, mediaType: MEDIA[format], base64: answer.value.base64 })
    },

    'seasons.save': async ({ dogId, format }) => {
      const dog = nameOf(dogId)
      if (!dog.ok) return dog
      const [name, mediaType] = FILES[format]
      const answer = await reporting.ask({ kind: 'file', file: await read({ dogIds: [dogId] }), dog: dog.value, name })
      if (!answer.ok) return answer
      return success({ fileName: `${fileStem(dog.value)}-${name}`, mediaType, base64: answer.value.base64 })
    },

    'seasons.whoNeedsAttention': async () => {
      const file = await read({ inShort: true })
      const answer = await reporting.ask({ kind: 'attention', file })
      if (!answer.ok) return answer
      const ids = new Map([...namesIn(library).dogs].map(([id, name]) => [name, id]))
      return success(
        answer.value.dogs.flatMap((one) => {
          const dogId = ids.get(one.dog)
          return dogId === undefined ? [] : [{ ...one, dogId }]
        }),
      )
    },
  }
}

function rideOfSeason(ride: LibraryRide) {
  return {
    rideId: ride.rideId,
    isFilmed: ride.isFilmed,
    isInvented: ride['invented'] === true,
    isCorrected: ride['isCorrected'] === true,
    title: typeof ride['title'] === 'string' ? ride['title'] : '',
    said: linesIn(ride['comments']),
  }
}

/** A name as part of a file name on every system. */
function fileStem(name: string): string {
  const plain = name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
  return plain === '' ? 'dog' : plain
}
