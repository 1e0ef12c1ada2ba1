import { randomUUID } from 'node:crypto'
import type { Board } from '../../analysis/board/board.ts'
import type { Drop } from '../../analysis/drop/drop-test.ts'
import { testMassAlongM, USUAL_PLACE } from '../../analysis/rules/rule-sets.ts'
import type { TestWeight } from '../contract/clips.ts'
import type { Handlers, Happening } from '../contract/calls.ts'
import type { Job, JobState } from '../contract/jobs.ts'
import { problem, success, type Outcome } from '../contract/outcome.ts'
import type { KeptClip, Library, RideRecord } from '../library/library.ts'
import { LibraryProblem } from '../library/library-problem.ts'
import type { ClipFiles } from './clips-files.ts'
import { marksOf } from '../../analysis/marking/marks-draft.ts'
import type { FromMeasuring, MeasuringOrder, ToMeasuring } from './measuring-messages.ts'
import { keepRides } from './measuring-rides.ts'
import { TimeLeft, type Pace } from './measuring-time-left.ts'
import type { StartWorkerProcess, WorkerProcess } from './worker-process.ts'

export interface MeasuringParts {
  readonly library: Library
  readonly files: ClipFiles
  readonly tell: (happening: Happening) => void
  readonly startWorkerProcess: StartWorkerProcess
  /** How many clips are measured at a time; 1 unless given, which leaves the machine to the window. */
  readonly atOnce?: number
}

export type MeasuringHandlers = Pick<Handlers, 'measuring.start' | 'measuring.stop' | 'measuring.jobs'>

/** Measures clips in the order in which they were asked for, each in a process of its own. */
export interface MeasuringService {
  readonly handlers: MeasuringHandlers
  /** True while a clip is measured or waits for it. */
  isBeingMeasured(clipId: string): boolean
  isMeasuring(): boolean
  /** Gives up on a clip; done when nothing of its measurement runs any more. */
  stopFor(clipId: string): Promise<void>
  close(): Promise<void>
}

/** A stopped process may end its ffmpeg; then it is killed, ms. */
const GRACE_MS = 500
/** Ended jobs that are remembered. */
const KEPT_JOBS = 200
const ENTRY = new URL(`./measuring-process.${import.meta.url.endsWith('.ts') ? 'ts' : 'js'}`, import.meta.url)

interface Entry {
  readonly id: string
  readonly clipId: string
  state: JobState
  worker: WorkerProcess | null
  /** What was measured is being kept: it can no longer be stopped. */
  isEnding: boolean
  /** Settles when nothing of the job runs any more. */
  over: Promise<void>
}

export function measuringService(parts: MeasuringParts): MeasuringService {
  const { library, files, tell, startWorkerProcess, atOnce = 1 } = parts
  const jobs: Entry[] = []
  const atWork = new Set<Promise<void>>()
  let pace: Pace | null = null
  let isClosed = false

  const jobOf = ({ id, clipId, state }: Entry): Job => ({ id, clipId, state })
  const isOpen = ({ state }: Entry) => state.kind === 'waiting' || state.kind === 'running'
  const openJob = (clipId: string) => jobs.find((entry) => entry.clipId === clipId && isOpen(entry))

  function set(entry: Entry, state: JobState): void {
    entry.state = state
    tell({ kind: 'job', job: jobOf(entry) })
  }

  function countWaiting(): void {
    jobs.filter(isOpen).forEach((entry, ahead) => {
      if (entry.state.kind === 'waiting' && entry.state.ahead !== ahead) set(entry, { kind: 'waiting', ahead })
    })
  }

  async function orderFor(clipId: string): Promise<Outcome<{ clip: KeptClip; order: MeasuringOrder }>> {
    const found = await files.find(clipId)
    if (!found.ok) return found
    const clip = found.value
    const { setup, facts } = clip
    const board = setup.boardId === null ? null : library.boards.get(setup.boardId)
    if (board === null) return problem('not-ready', 'Choose the board first: everything is measured by its lengths.')
    const marks = marksOf(clip.marks, { fileName: facts.fileName, travel: setup.travel })
    if (!marks.ok) return problem('not-ready', marks.message)
    const order: MeasuringOrder = {
      clipPath: clip.path,
      sha256: facts.sha256,
      marks: marks.value,
      board: board.shape,
      ...(board.isAssumed === true ? { origins: { boardFrom: 'assumed' } } : {}),
      ...(setup.slowMotion === null ? {} : { slowMotion: setup.slowMotion }),
      ...(setup.stretch === null ? {} : { stretch: setup.stretch }),
      ...(setup.weight === undefined ? {} : { weight: placedOn(board.shape, setup.weight) }),
    }
    return success({ clip, order })
  }

  async function workThrough(): Promise<void> {
    const isWaiting = ({ state }: Entry) => state.kind === 'waiting'
    for (let next = jobs.find(isWaiting); next !== undefined; next = jobs.find(isWaiting)) {
      const entry = next
      set(entry, { kind: 'running', doing: 'starting', framesDone: 0, framesTotal: 0, leftS: null })
      countWaiting()
      entry.over = measure(entry).catch((error: unknown) => {
        if (!(error instanceof LibraryProblem)) console.error(error)
        const why = error instanceof LibraryProblem ? error.message : 'Try again.'
        set(entry, { kind: 'failed', message: `The measured ride could not be saved. ${why}` })
      })
      await entry.over
      countWaiting()
    }
  }

  function begin(): void {
    if (atWork.size >= atOnce) return
    const work = workThrough().finally(() => {
      atWork.delete(work)
    })
    atWork.add(work)
  }

  async function measure(entry: Entry): Promise<void> {
    const ordered = await orderFor(entry.clipId)
    if (!isOpen(entry)) return
    if (!ordered.ok) return set(entry, { kind: 'failed', message: ordered.error.message })
    const { clip, order } = ordered.value
    const { stretch } = clip.setup
    const frames = stretch === null ? clip.facts.frameCount : stretch.toFrame - stretch.fromFrame + 1
    const time = new TimeLeft(pace, frames, seconds())
    const end = await runWorker(entry, order, (progress) => {
      if (!isOpen(entry)) return
      const { doing, framesDone, framesTotal } = progress
      set(entry, { kind: 'running', doing, framesDone, framesTotal, leftS: time.leftS(progress, seconds()) })
    })
    if (!isOpen(entry)) return
    pace = time.pace ?? pace
    entry.isEnding = true
    if (end.kind === 'failed') set(entry, end)
    else set(entry, await (end.kind === 'dropped' ? keptDrops(clip, end.drops) : kept(clip, end.rides)))
  }

  /** Runs the measuring process to its end, which comes with a result, a reason, or by force. */
  function runWorker(
    entry: Entry,
    order: MeasuringOrder,
    onProgress: (progress: Extract<FromMeasuring, { kind: 'progress' }>['progress']) => void,
  ): Promise<Exclude<FromMeasuring, { kind: 'progress' }>> {
    return new Promise((resolve) => {
      const worker = startWorkerProcess(ENTRY)
      let end: Exclude<FromMeasuring, { kind: 'progress' }> = {
        kind: 'failed',
        message: 'Measuring ended unexpectedly. Try again; in a very large clip, choose a shorter part.',
      }
      entry.worker = worker
      worker.onMessage((message) => {
        const told = message as FromMeasuring
        if (told.kind === 'progress') onProgress(told.progress)
        else {
          end = told
          endWorker(worker)
        }
      })
      worker.onExit(() => {
        entry.worker = null
        resolve(end)
      })
      post(worker, { kind: 'measure', order })
    })
  }

  /** @param clip as it was ordered: with the board that was measured on */
  async function keptDrops(
    { id, setup: { boardId } }: KeptClip,
    [drop, ...furtherDrops]: readonly [Drop, ...Drop[]],
  ): Promise<JobState> {
    if (boardId === null) return { kind: 'stopped' }
    const now = await library.clips.update(id, (then) => ({ ...then, drop: { boardId, drop, furtherDrops } }))
    return now === null ? { kind: 'stopped' } : { kind: 'done', rideIds: [], dropOnBoardId: boardId }
  }

  /** @param clip as it was ordered */
  async function kept(clip: KeptClip, rides: readonly RideRecord[]): Promise<JobState> {
    const now = library.clips.get(clip.id)
    if (now === null) return { kind: 'stopped' }
    const { dogId, title } = now.setup
    const rideIds = await keepRides(library, { ...clip, setup: { ...clip.setup, dogId, title } }, rides)
    const found = rides[0]?.measured.clip
    if (found !== undefined && clip.setup.slowMotion === null && found.slowMotionFactor !== clip.slowMotion.factor) {
      const { slowMotionFactor: factor, slowMotionEvidence: evidence } = found
      const slowMotion = { factor, evidence, isSure: false }
      await library.clips.update(clip.id, (then) => ({ ...then, slowMotion }))
    }
    return { kind: 'done', rideIds }
  }

  async function stop(entry: Entry): Promise<void> {
    if (!isOpen(entry)) return
    if (!entry.isEnding) {
      set(entry, { kind: 'stopped' })
      countWaiting()
      if (entry.worker !== null) endWorker(entry.worker)
    }
    await entry.over
  }

  const handlers: MeasuringHandlers = {
    'measuring.start': async ({ clipId }) => {
      const ordered = await orderFor(clipId)
      if (!ordered.ok) return ordered
      const already = openJob(clipId)
      if (already !== undefined) return success(jobOf(already))
      if (isClosed) return problem('refused', 'The program is closing: measure the clip at the next start.')
      const ahead = jobs.filter(isOpen).length
      const state: JobState = { kind: 'waiting', ahead }
      const entry: Entry = { id: randomUUID(), clipId, state, worker: null, isEnding: false, over: Promise.resolve() }
      jobs.push(entry)
      const surplus = jobs.findIndex((other) => !isOpen(other))
      if (jobs.length > KEPT_JOBS && surplus >= 0) jobs.splice(surplus, 1)
      tell({ kind: 'job', job: jobOf(entry) })
      begin()
      return success(jobOf(entry))
    },

    'measuring.stop': async ({ jobId }) => {
      const entry = jobs.find(({ id }) => id === jobId)
      if (entry === undefined) return problem('not-found', 'This measurement is no longer known.')
      await stop(entry)
      return success(null)
    },

    'measuring.jobs': () => Promise.resolve(success(jobs.map(jobOf))),
  }

  return {
    handlers,
    isBeingMeasured: (clipId) => openJob(clipId) !== undefined,
    isMeasuring: () => jobs.some(isOpen),
    stopFor: async (clipId) => {
      const entry = openJob(clipId)
      if (entry !== undefined) await stop(entry)
    },
    close: async () => {
      isClosed = true
      await Promise.all(jobs.filter(isOpen).map(stop))
      await Promise.all(atWork)
    },
  }
}

function placedOn(board: Board, { massKg, atM }: TestWeight): NonNullable<MeasuringOrder['weight']> {
  return { massKg, massAtM: atM ?? testMassAlongM(USUAL_PLACE, board) }
}

function post(worker: WorkerProcess, message: ToMeasuring): void {
  worker.post(message)
}

/** Asks a process to end, which ends its ffmpeg too, and kills it when it does not. */
function endWorker(worker: WorkerProcess): void {
  post(worker, { kind: 'stop' })
  const timer = setTimeout(() => worker.kill(), GRACE_MS)
  worker.onExit(() => clearTimeout(timer))
}

function seconds(): number {
  return performance.now() / 1000
}
