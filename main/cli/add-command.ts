import { randomUUID } from 'node:crypto'
import { availableParallelism } from 'node:os'
import { basename, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { isWhole, markedTravel } from '../../analysis/marking/marks-draft.ts'
import { USUAL_BOARD } from '../../analysis/rules/rule-sets.ts'
import type { Happening } from '../contract/calls.ts'
import type { MarksProposal } from '../contract/clips.ts'
import type { Job } from '../contract/jobs.ts'
import { defaultLibraryFolder } from '../library/library-folder.ts'
import type { KeptClip, Library } from '../library/library.ts'
import { LibraryProblem } from '../library/library-problem.ts'
import { openLibrary } from '../library/open-library.ts'
import type { OnProgress } from '../measuring/measured-ride.ts'
import { openClipFiles } from '../services/clips-files.ts'
import { rideIdsByClip } from '../services/clips-cards.ts'
import { takingIn } from '../services/clips-taken-in.ts'
import { measuringService, type MeasuringService } from '../services/measuring-service.ts'
import { proposingService, type ProposingService } from '../services/proposing-service.ts'
import { forkWorkerProcess } from '../services/worker-process.ts'
import { type AddCommand, type CommandEnd, exitCodes } from './command.ts'
import { wrongUsage } from './command-end.ts'
import { AddProgress } from './add-progress.ts'

export interface AddTools {
  readonly signal: AbortSignal
  readonly onProgress: OnProgress
  readonly remark: (line: string) => void
  /** How many clips are measured at a time; one a core unless given. */
  readonly atOnce?: number
}

/** What became of one clip. */
type Fate =
  | { readonly kind: 'measured'; readonly rides: number; readonly marksFrom: MarksProposal['source'] | 'hand' }
  | { readonly kind: 'known'; readonly rides: number }
  | { readonly kind: 'needs-marks' }
  | { readonly kind: 'failed'; readonly why: string }
  | { readonly kind: 'unreadable'; readonly why: string }

const MARKS_NOTE = 'Marks found by the program: check both ends of the plank.'
const SAMPLES = fileURLToPath(new URL('../../sample-clips/clips/', import.meta.url))

/**
 * Takes a whole evening's clips into the library and measures them. Each ride is kept as soon as it is measured, so the
 * same command goes on where an interrupted one ended.
 */
export async function addCommand(command: AddCommand, tools: AddTools): Promise<CommandEnd> {
  const folder = command.libraryFolder ?? defaultLibraryFolder()
  try {
    const library = await openLibrary(folder, { onNote: tools.remark })
    try {
      return await addTo(library, command, tools)
    } finally {
      await library.close()
    }
  } catch (error) {
    if (error instanceof LibraryProblem) return wrongUsage(error.message)
    throw error
  }
}

async function addTo(library: Library, command: AddCommand, tools: AddTools): Promise<CommandEnd> {
  const dogId = await idOf(library.dogs.list(), command.dog, 'dog', () => newDog(library, command.dog, tools))
  const boardId = await idOf(library.boards.list(), command.board, 'board', () =>
    newBoard(library, command.board, tools),
  )
  const files = openClipFiles(library, SAMPLES)
  const watched = new AddProgress(command.clipPaths.length, tools.onProgress)
  const ended = new JobEnds()
  const measuring = measuringService({
    library,
    files,
    startWorkerProcess: forkWorkerProcess,
    atOnce: tools.atOnce ?? availableParallelism(),
    tell: (happening: Happening) => {
      if (happening.kind !== 'job') return
      watched.job(happening.job)
      ended.told(happening.job)
    },
  })
  const proposing = proposingService(library, files, forkWorkerProcess)
  const stop = (): void => {
    proposing.close()
    void measuring.close()
  }
  tools.signal.addEventListener('abort', stop)
  try {
    const evening = new Evening({ library, dogId, boardId, measuring, proposing, ended, watched, signal: tools.signal })
    const takeIn = takingIn(library, files)
    for (const path of command.clipPaths) {
      tools.signal.throwIfAborted()
      const taken = await takeIn(resolve(path))
      if (taken.ok) await evening.add(taken.value)
      else evening.refuse(path, taken.error.message)
    }
    await evening.end()
    return endOf(evening.fates())
  } finally {
    tools.signal.removeEventListener('abort', stop)
    proposing.close()
    await measuring.close()
  }
}

interface EveningParts {
  readonly library: Library
  readonly dogId: string
  readonly boardId: string
  readonly measuring: MeasuringService
  readonly proposing: Pick<ProposingService, 'propose'>
  readonly ended: JobEnds
  readonly watched: AddProgress
  readonly signal: AbortSignal
}

/** The clips of one evening: each is marked in its turn while those before it are being measured. */
class Evening {
  readonly #parts: EveningParts
  readonly #fates = new Map<string, Fate>()
  readonly #unmarked: string[] = []
  readonly #running: Promise<void>[] = []

  constructor(parts: EveningParts) {
    this.#parts = parts
  }

  refuse(path: string, why: string): void {
    this.#fates.set(basename(path), { kind: 'unreadable', why })
    this.#parts.watched.settled()
  }

  async add(clip: KeptClip): Promise<void> {
    const { library, dogId, boardId } = this.#parts
    const rides = rideIdsByClip(library).get(clip.id)?.length ?? 0
    if (rides > 0) {
      this.#settle(clip, { kind: 'known', rides })
      return
    }
    const isMarked = isWhole(clip.marks)
    const set = await library.clips.update(clip.id, (now) => ({
      ...now,
      setup: { ...now.setup, dogId, boardId, ...(isMarked ? {} : { travel: null }) },
    }))
    if (set === null) return
    if (isMarked) this.#measure(set, 'hand')
    else if (!(await this.#mark(set))) this.#unmarked.push(set.id)
  }

  /** Clips without marks of their own may take those of clips that came after them. */
  async end(): Promise<void> {
    for (const id of this.#unmarked) {
      this.#parts.signal.throwIfAborted()
      const clip = this.#parts.library.clips.get(id)
      if (clip !== null && !(await this.#mark(clip))) this.#settle(clip, { kind: 'needs-marks' })
    }
    await Promise.all(this.#running)
    this.#parts.signal.throwIfAborted()
  }

  fates(): ReadonlyMap<string, Fate> {
    return this.#fates
  }

  async #mark(clip: KeptClip): Promise<boolean> {
    const { library, proposing, watched } = this.#parts
    watched.looking(clip.facts.fileName)
    const proposed = await proposing.propose(clip)
    const best = proposed.ok ? proposed.value.offers.find(({ marks }) => isWhole(marks)) : undefined
    if (best === undefined) return false
    const travel = markedTravel(best.marks)
    const marked = await library.clips.update(clip.id, (now) => ({
      ...now,
      marks: best.marks,
      setup: { ...now.setup, travel },
    }))
    if (marked !== null) this.#measure(marked, best.source)
    return true
  }

  #measure(clip: KeptClip, marksFrom: Extract<Fate, { kind: 'measured' }>['marksFrom']): void {
    this.#running.push(this.#measured(clip, marksFrom))
  }

  async #measured(clip: KeptClip, marksFrom: Extract<Fate, { kind: 'measured' }>['marksFrom']): Promise<void> {
    const { library, measuring, ended } = this.#parts
    const started = await measuring.handlers['measuring.start']({ clipId: clip.id })
    if (!started.ok) {
      this.#settle(clip, { kind: 'failed', why: started.error.message })
      return
    }
    const state = await ended.of(started.value)
    if (state.kind === 'done') {
      if (marksFrom === 'found') for (const id of state.rideIds) await library.rides.change(id, { note: MARKS_NOTE })
      this.#settle(clip, { kind: 'measured', rides: state.rideIds.length, marksFrom })
    } else this.#settle(clip, { kind: 'failed', why: state.kind === 'failed' ? state.message : 'It was stopped.' })
  }

  #settle({ facts }: KeptClip, fate: Fate): void {
    this.#fates.set(facts.fileName, fate)
    this.#parts.watched.settled()
  }
}

/** Waits for the ends of jobs, whether they are told before or after somebody asks. */
class JobEnds {
  readonly #ended = new Map<string, Job['state']>()
  readonly #waiting = new Map<string, (state: Job['state']) => void>()

  told({ id, state }: Job): void {
    if (state.kind === 'waiting' || state.kind === 'running') return
    this.#ended.set(id, state)
    this.#waiting.get(id)?.(state)
  }

  of({ id }: Job): Promise<Job['state']> {
    const state = this.#ended.get(id)
    return state === undefined ? new Promise((resolve) => this.#waiting.set(id, resolve)) : Promise.resolve(state)
  }
}

/** The id of the one thing with a name, upper and lower case alike; a new one where there is none. */
async function idOf(
  things: readonly { readonly id: string; readonly name: string }[],
  name: string,
  what: 'dog' | 'board',
  create: () => Promise<string>,
): Promise<string> {
  const plain = (text: string) => text.trim().toLocaleLowerCase('en')
  const exact = things.filter((one) => one.name.trim() === name.trim())
  const found = exact.length > 0 ? exact : things.filter((one) => plain(one.name) === plain(name))
  if (found.length > 1) {
    throw new LibraryProblem('bad-input', `The library has ${found.length} ${what}s named "${name}": rename one first.`)
  }
  return found[0]?.id ?? create()
}

async function newDog({ dogs }: Library, name: string, { remark }: AddTools): Promise<string> {
  const id = randomUUID()
  const nothing = { withersM: null, massKg: null, bodyDay: null, bodyBefore: [], bornInMonth: null, criterion: null }
  await dogs.put({ id, name: name.trim(), note: '', ...nothing })
  remark(`${name.trim()} is a new dog in the library.`)
  return id
}

async function newBoard({ boards }: Library, name: string, { remark }: AddTools): Promise<string> {
  const id = randomUUID()
  const shape = USUAL_BOARD
  await boards.put({ id, name: name.trim(), shape, note: '', isAssumed: true })
  remark(
    `${name.trim()} is a new board in the library: it is taken to be ${shape.lengthM} m long; correct its lengths under Boards, then measure again.`,
  )
  return id
}

function endOf(fates: ReadonlyMap<string, Fate>): CommandEnd {
  const lines = [...fates].map(([name, fate]) => `${name}: ${fateInWords(fate)}`)
  const kinds = new Set([...fates.values()].map(({ kind }) => kind))
  const found = [...fates.values()].some((fate) => fate.kind === 'measured' && fate.marksFrom === 'found')
  if (found) lines.push('Where the program found the marks, check both ends of the plank in the window.')
  const exitCode = kinds.has('unreadable')
    ? exitCodes.unreadableClip
    : kinds.has('failed') || kinds.has('needs-marks')
      ? exitCodes.nothingMeasured
      : exitCodes.measured
  return { exitCode, lines, complaint: null }
}

function fateInWords(fate: Fate): string {
  const rides = (count: number) => (count === 1 ? '1 ride' : `${count} rides`)
  switch (fate.kind) {
    case 'measured':
      return `${rides(fate.rides)} measured${{ found: ', marks found by the program', carried: ', marks carried over from a clip of the same place', hand: '' }[fate.marksFrom]}`
    case 'known':
      return `already in the library with ${rides(fate.rides)}`
    case 'needs-marks':
      return 'in the library, needs marks: open it in the window and mark the plank'
    case 'failed':
    case 'unreadable':
      return fate.why
  }
}
