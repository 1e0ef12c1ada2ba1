import { copyFile, readdir, rm, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import type { Happening } from '../../../main/contract/calls.ts'
import type { Job } from '../../../main/contract/jobs.ts'
import type { KeptClip } from '../../../main/library/library.ts'
import { openClipFiles } from '../../../main/services/clips-files.ts'
import type { FromMeasuring, MeasuringOrder, ToMeasuring } from '../../../main/services/measuring-messages.ts'
import { measuringService } from '../../../main/services/measuring-service.ts'
import type { StartWorkerProcess } from '../../../main/services/worker-process.ts'
import { clubBoard, juno, meadowClip, meadowRide, testFolder, testLibrary } from '../library/things.ts'

const at = (xPx: number, yPx: number) => ({ xPx, yPx })
const marks = {
  rest: {
    frame: 0,
    entryEnd: at(20, 100),
    exitEnd: at(300, 50),
    pivot: at(160, 75),
    upContactEdge: at(90, 88),
    downContactEdge: at(230, 62),
  },
  grounded: null,
  neverLands: true,
}

/** Stands for a measuring process: tests speak in its place. */
class Worker {
  readonly heard: ToMeasuring[] = []
  wasKilled = false
  /** Whether it ends when it is asked to. */
  obeys = true
  #listener: (message: unknown) => void = () => undefined
  readonly #exits: ((code: number | null) => void)[] = []
  readonly process: ReturnType<StartWorkerProcess> = {
    post: (message) => {
      this.heard.push(message as ToMeasuring)
      if ((message as ToMeasuring).kind === 'stop' && this.obeys) setImmediate(() => this.exit(0))
    },
    onMessage: (listener) => (this.#listener = listener),
    onExit: (listener) => void this.#exits.push(listener),
    kill: () => {
      this.wasKilled = true
      this.exit(null)
    },
  }

  get order(): MeasuringOrder | null {
    const told = this.heard.find((message) => message.kind === 'measure')
    return told?.kind === 'measure' ? told.order : null
  }

  say(message: FromMeasuring): void {
    this.#listener(message)
  }

  exit(code: number | null): void {
    for (const listener of this.#exits.splice(0)) listener(code)
  }
}

async function open() {
  const folder = await testFolder()
  const library = await testLibrary(join(folder, 'library'))
  const told: Job[] = []
  const workers: Worker[] = []
  const tell = (happening: Happening) => happening.kind === 'job' && told.push(happening.job)
  const startWorkerProcess: StartWorkerProcess = () => {
    workers.push(new Worker())
    return workers.at(-1)!.process
  }
  const measuring = measuringService({ library, files: openClipFiles(library, folder), tell, startWorkerProcess })
  onTestFinished(() => measuring.close())
  await library.dogs.put(juno)
  await library.boards.put(clubBoard)

  async function clip(id: string, change: Partial<KeptClip['setup']> = {}): Promise<KeptClip> {
    const path = join(folder, `${id}.mp4`)
    await copyFile(import.meta.filename, path)
    const setup = { ...meadowClip.setup, dogId: 'juno', boardId: 'club', title: 'First run', ...change }
    const kept = { ...meadowClip, id, path, sizeBytes: (await stat(path)).size, marks, setup }
    await library.clips.put(kept)
    return kept
  }
  async function start(clipId: string): Promise<Job> {
    const outcome = await measuring.handlers['measuring.start']({ clipId })
    if (!outcome.ok) throw new Error(outcome.error.message)
    return outcome.value
  }
  const worker = async (k: number): Promise<Worker> => {
    await expect.poll(() => workers[k]?.heard.length).toBeGreaterThan(0)
    return workers[k]!
  }
  const state = (jobId: string) => told.filter(({ id }) => id === jobId).at(-1)?.state
  const until = (jobId: string, kind: string) => expect.poll(() => state(jobId)?.kind).toBe(kind)
  return { library, measuring, workers, told, clip, start, worker, state, until }
}

const rides = [meadowRide.record]

test('a clip is measured with its marks, board, stretch and slow motion, and its ride is kept', async () => {
  const { library, measuring, clip, start, worker, state, until } = await open()
  const { path } = await clip('a', { stretch: { fromFrame: 5, toFrame: 40 }, slowMotion: 4 })
  const job = await start('a')
  const { order } = await worker(0)
  expect(order).toEqual({
    clipPath: path,
    sha256: meadowClip.facts.sha256,
    marks: { clip: 'meadow.mp4', rest: marks.rest },
    board: clubBoard.shape,
    slowMotion: 4,
    stretch: { fromFrame: 5, toFrame: 40 },
  })
  expect(measuring.isBeingMeasured('a')).toBe(true)
  ;(await worker(0)).say({ kind: 'measured', rides })
  await until(job.id, 'done')
  expect(state(job.id)).toEqual({ kind: 'done', rideIds: library.rides.cards().map(({ id }) => id) })
  expect(library.rides.cards()).toMatchObject([{ clipId: 'a', dogId: 'juno', boardId: 'club', title: 'First run' }])
  expect(measuring.isMeasuring()).toBe(false)
})

test('what is measured on a board that nobody has measured says so', async () => {
  const { library, clip, start, worker } = await open()
  await library.boards.put({ ...clubBoard, isAssumed: true })
  await clip('a')
  await start('a')
  expect((await worker(0)).order?.origins).toEqual({ boardFrom: 'assumed' })
})

test('a clip that shows a weight instead of a dog says so to whoever asked', async () => {
  const { clip, start, worker, state, until } = await open()
  await clip('a')
  const job = await start('a')
  const end = { kind: 'failed', message: 'No dog was found.', looksLikeDropTest: true } as const
  ;(await worker(0)).say(end)
  await until(job.id, 'failed')
  expect(state(job.id)).toEqual(end)
})

test('progress is told with what is being done', async () => {
  const { clip, start, worker, state } = await open()
  await clip('a')
  const job = await start('a')
  const progress = { doing: 'looking through the clip', framesDone: 3, framesTotal: 36 }
  ;(await worker(0)).say({ kind: 'progress', progress: { step: 'looking', ...progress } })
  expect(state(job.id)).toEqual({ kind: 'running', ...progress, leftS: null })
})

test('one clip is measured at a time, others wait and know how many are ahead', async () => {
  const { clip, start, worker, workers, state, until } = await open()
  await Promise.all([clip('a'), clip('b'), clip('c')])
  const [a, b, c] = [await start('a'), await start('b'), await start('c')]
  const first = await worker(0)
  expect([state(b.id), state(c.id)]).toEqual([
    { kind: 'waiting', ahead: 1 },
    { kind: 'waiting', ahead: 2 },
  ])
  expect(workers).toHaveLength(1)
  first.say({ kind: 'measured', rides })
  await worker(1)
  expect([state(a.id)?.kind, state(b.id)?.kind, state(c.id)]).toEqual([
    'done',
    'running',
    { kind: 'waiting', ahead: 1 },
  ])
  workers[1]!.say({ kind: 'failed', message: 'No dog was found.' })
  await until(b.id, 'failed')
  expect(state(b.id)).toEqual({ kind: 'failed', message: 'No dog was found.' })
  await worker(2)
})

test('starting a clip twice is one measurement', async () => {
  const { clip, start } = await open()
  await clip('a')
  expect((await start('a')).id).toBe((await start('a')).id)
})

test('a stopped measurement ends its process and leaves no ride', async () => {
  const { library, measuring, clip, start, worker, state, until } = await open()
  await clip('a')
  const job = await start('a')
  const busy = await worker(0)
  await measuring.handlers['measuring.stop']({ jobId: job.id })
  expect(busy.heard.at(-1)).toEqual({ kind: 'stop' })
  busy.say({ kind: 'measured', rides })
  await until(job.id, 'stopped')
  expect(state(job.id)).toEqual({ kind: 'stopped' })
  expect(library.rides.cards()).toEqual([])
})

test('a process that does not end when asked to is killed', async () => {
  const { measuring, clip, start, worker } = await open()
  await clip('a')
  const job = await start('a')
  const busy = await worker(0)
  busy.obeys = false
  await measuring.handlers['measuring.stop']({ jobId: job.id })
  expect(busy.wasKilled).toBe(true)
})

test('a waiting measurement that is stopped never begins', async () => {
  const { measuring, clip, start, worker, workers, until } = await open()
  await Promise.all([clip('a'), clip('b')])
  const [a, b] = [await start('a'), await start('b')]
  await measuring.handlers['measuring.stop']({ jobId: b.id })
  ;(await worker(0)).say({ kind: 'measured', rides })
  await until(a.id, 'done')
  expect(workers).toHaveLength(1)
})

test('a process that ends by itself is a failure that says what to do', async () => {
  const { clip, start, worker, until, state } = await open()
  await clip('a')
  const job = await start('a')
  ;(await worker(0)).exit(1)
  await until(job.id, 'failed')
  expect(state(job.id)).toMatchObject({ message: expect.stringMatching(/ended unexpectedly\. Try again/) as string })
})

test('closing stops everything and takes nothing new', async () => {
  const { measuring, clip, start, worker, state } = await open()
  await Promise.all([clip('a'), clip('b')])
  const [a, b] = [await start('a'), await start('b')]
  await worker(0)
  await measuring.close()
  expect([state(a.id)?.kind, state(b.id)?.kind]).toEqual(['stopped', 'stopped'])
  expect(await measuring.handlers['measuring.start']({ clipId: 'a' })).toMatchObject({ error: { code: 'refused' } })
})

test('without a board or marks it is said what is missing', async () => {
  const { library, measuring, clip } = await open()
  await clip('a', { boardId: null })
  const kept = await clip('b')
  await library.clips.put({ ...kept, marks: { ...marks, rest: null } })
  const said = async (clipId: string) => {
    const outcome = await measuring.handlers['measuring.start']({ clipId })
    return outcome.ok ? 'started' : `${outcome.error.code}: ${outcome.error.message}`
  }
  expect(await said('a')).toMatch(/^not-ready: Choose the board first/)
  expect(await said('b')).toMatch(/^not-ready: Mark the two ends/)
  expect(await said('c')).toMatch(/^not-found:/)
})

test('a clip without a dog is measured all the same', async () => {
  const { library, clip, start, worker, until } = await open()
  await clip('a', { dogId: null })
  const job = await start('a')
  ;(await worker(0)).say({ kind: 'measured', rides })
  await until(job.id, 'done')
  expect(library.rides.cards()).toMatchObject([{ dogId: null }])
})

const judgedByEye = { ...meadowRide.corrections, zones: { up: 'missed' as const } }

test('measuring again replaces the rides: what people said and corrected stays, surplus rides go', async () => {
  const { library, clip, start, worker, until } = await open()
  await clip('a')
  const one = { ...meadowRide, clipId: 'a', note: 'windy', title: 'My best', corrections: judgedByEye }
  await library.rides.put({ ...one, id: 'first' })
  await library.rides.put({ ...one, id: 'second' })
  const job = await start('a')
  ;(await worker(0)).say({ kind: 'measured', rides })
  await until(job.id, 'done')
  expect(library.rides.cards()).toMatchObject([
    { title: 'My best', note: 'windy', dogId: 'juno', isCorrected: true, up: 'missed' },
  ])
})

test('a ride takes over from the old one of the same frames, not from the first', async () => {
  const { library, clip, start, worker, until } = await open()
  await clip('a')
  const { record } = meadowRide
  const later = { ...record, picture: { ...record.picture, frameIndex: record.picture.frameIndex.map((k) => k + 500) } }
  await library.rides.put({ ...meadowRide, clipId: 'a', id: 'first', title: 'The first' })
  await library.rides.put({ ...meadowRide, clipId: 'a', id: 'second', title: 'The second', record: later })
  const job = await start('a')
  ;(await worker(0)).say({ kind: 'measured', rides: [later] })
  await until(job.id, 'done')
  expect(library.rides.cards()).toMatchObject([{ id: 'second', title: 'The second' }])
})

test('with another slow motion the corrections are void: they speak of other times', async () => {
  const { library, clip, start, worker, until } = await open()
  await clip('a')
  await library.rides.put({ ...meadowRide, clipId: 'a', id: 'first', corrections: judgedByEye })
  const job = await start('a')
  const { record } = meadowRide
  const slowed = { ...record.measured, clip: { ...record.measured.clip, slowMotionFactor: 8 } }
  ;(await worker(0)).say({ kind: 'measured', rides: [{ ...record, measured: slowed }] })
  await until(job.id, 'done')
  expect(library.rides.cards()).toMatchObject([{ id: 'first', isCorrected: false }])
})

test('measuring a stretch again leaves the rides outside it alone, and what is corrected meanwhile is kept', async () => {
  const { library, clip, start, worker, until } = await open()
  await clip('a', { stretch: { fromFrame: 0, toFrame: 50 } })
  const { record } = meadowRide
  const later = { ...record, picture: { ...record.picture, frameIndex: record.picture.frameIndex.map((k) => k + 500) } }
  await library.rides.put({ ...meadowRide, clipId: 'a', id: 'first' })
  await library.rides.put({
    ...meadowRide,
    clipId: 'a',
    id: 'later',
    record: later,
    note: 'gusty',
    corrections: judgedByEye,
  })
  const job = await start('a')
  ;(await worker(0)).say({ kind: 'measured', rides })
  const corrected = library.rides.change('first', { corrections: judgedByEye, note: 'said while it was kept' })
  await until(job.id, 'done')
  await corrected
  expect(await library.rides.get('later')).toMatchObject({ note: 'gusty', corrections: judgedByEye })
  expect(await library.rides.get('first')).toMatchObject({ note: 'said while it was kept', corrections: judgedByEye })
})

test('a ride says the board that it was measured with, though another was chosen meanwhile', async () => {
  const { library, clip, start, worker, until } = await open()
  await library.boards.put({ ...clubBoard, id: 'other' })
  await clip('a')
  const job = await start('a')
  const busy = await worker(0)
  await library.clips.update('a', (now) => ({ ...now, setup: { ...now.setup, boardId: 'other' } }))
  busy.say({ kind: 'measured', rides })
  await until(job.id, 'done')
  expect(library.rides.cards()).toMatchObject([{ boardId: 'club' }])
})

test('rides that are not found again lie in the bin', async () => {
  const { library, clip, start, worker, until } = await open()
  await clip('a')
  for (const id of ['first', 'second']) await library.rides.put({ ...meadowRide, clipId: 'a', id, note: id })
  const job = await start('a')
  ;(await worker(0)).say({ kind: 'measured', rides })
  await until(job.id, 'done')
  expect(library.bin.list()).toMatchObject([{ kind: 'ride', rides: 0 }])
})

test('a ride whose data cannot be read any more is measured anew in its place', async () => {
  const { library, clip, start, worker, until } = await open()
  await clip('a')
  await library.rides.put({ ...meadowRide, clipId: 'a', id: 'first', title: 'My best' })
  const folder = join(library.folder, 'rides', 'first')
  for (const name of await readdir(folder)) if (name.startsWith('part-')) await rm(join(folder, name))
  await expect(library.rides.get('first')).rejects.toThrow('cannot be read')
  const job = await start('a')
  ;(await worker(0)).say({ kind: 'measured', rides })
  await until(job.id, 'done')
  expect(await library.rides.get('first')).toMatchObject({ title: 'My best', record: { measured: { events: {} } } })
})

test('a slow motion that only the movement shows is remembered with the clip', async () => {
  const { library, clip, start, worker, until } = await open()
  await clip('a')
  const job = await start('a')
  const { measured } = meadowRide.record
  const slowed = { ...measured, clip: { ...measured.clip, slowMotionFactor: 8, slowMotionEvidence: 'It fell slowly.' } }
  ;(await worker(0)).say({ kind: 'measured', rides: [{ ...meadowRide.record, measured: slowed }] })
  await until(job.id, 'done')
  expect(library.clips.get('a')?.slowMotion).toEqual({ factor: 8, evidence: 'It fell slowly.', isSure: false })
})
