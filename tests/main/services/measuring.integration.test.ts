import { execFileSync } from 'node:child_process'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import type { Happening } from '../../../main/contract/calls.ts'
import type { JobState } from '../../../main/contract/jobs.ts'
import { type Outcome } from '../../../main/contract/outcome.ts'
import { openServices } from '../../../main/services/services.ts'
import { forkWorkerProcess } from '../../../main/services/worker-process.ts'
import { testFolder } from '../library/things.ts'

const SAMPLES = join(import.meta.dirname, '../../../sample-clips/clips')

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}

async function open() {
  const opened = await openServices({
    libraryFolder: join(await testFolder(), 'library'),
    samplesFolder: SAMPLES,
    startWorkerProcess: forkWorkerProcess,
  })
  const services = valueOf(opened)
  onTestFinished(() => services.close())
  const states: JobState[] = []
  services.onHappening((happening: Happening) => {
    if (happening.kind === 'job') states.push(happening.job.state)
  })
  return { services, states }
}

/** Programs that this process started and that are still there, by their command lines. */
function offspring(): string[] {
  const lines = execFileSync('ps', ['-eo', 'pid=,ppid=,args='], { encoding: 'utf8' }).split('\n')
  const all = lines.map((line) => /^\s*(\d+)\s+(\d+)\s+(.*)$/.exec(line)).filter((match) => match !== null)
  const family = new Set([String(process.pid)])
  const out: string[] = []
  for (const [, pid, parent, args] of all) {
    if (!family.has(parent!) || args!.startsWith('ps ')) continue
    family.add(pid!)
    out.push(args!)
  }
  return out.filter((args) => /measuring-process|ffmpeg/.test(args))
}

test('a sample is taken in with marks, board and dog, and measured into a ride', async () => {
  const { services, states } = await open()
  const clip = valueOf(await services.handlers['samples.takeIn']({ name: 'moth-slow-motion' }))
  expect(clip.card).toMatchObject({ stage: 'to-measure', dogName: 'Moth', sample: 'moth-slow-motion' })
  expect(clip.slowMotion.factor).toBe(8)
  valueOf(await services.handlers['measuring.start']({ clipId: clip.card.id }))
  await expect.poll(() => states.at(-1)?.kind, { timeout: 200_000, interval: 200 }).toMatch(/done|failed/)
  expect(states.at(-1)).toMatchObject({ kind: 'done' })
  const foretold = states.flatMap((state) => (state.kind === 'running' && state.leftS !== null ? [state.leftS] : []))
  expect(foretold.length).toBeGreaterThan(3)
  expect(foretold.at(-1)).toBeLessThan(foretold[0]!)
  const { rides } = valueOf(
    await services.handlers['rides.list']({
      words: '',
      dogId: null,
      boardId: null,
      leaving: null,
      sortBy: 'newest',
      offset: 0,
      limit: 10,
    }),
  )
  expect(rides).toMatchObject([{ title: 'Moth in slow motion', dogName: 'Moth' }])
  const samples = valueOf(await services.handlers['samples.list']({}))
  expect(samples.find(({ name }) => name === 'moth-slow-motion')?.rideId).toBe(rides[0]!.id)
  const again = valueOf(await services.handlers['samples.takeIn']({ name: 'moth-slow-motion' }))
  expect(again.card).toMatchObject({ id: clip.card.id, stage: 'measured' })
})

test('a new library gets its first sample ride by itself; closing half-way ends all that runs', async () => {
  const { services, states } = await open()
  await services.prepareFirstSample()
  const isLooking = (state: JobState) => state.kind === 'running' && state.doing.startsWith('looking')
  await expect.poll(() => states.some(isLooking), { timeout: 60_000 }).toBe(true)
  expect(offspring()).not.toEqual([])
  expect(services.isMeasuring()).toBe(true)
  await services.close()
  expect(states.at(-1)).toEqual({ kind: 'stopped' })
  await expect.poll(offspring, { timeout: 60_000 }).toEqual([])
})

test('a library that holds something gets no sample by itself', async () => {
  const { services } = await open()
  const dog = {
    name: 'Rook',
    withersM: null,
    massKg: null,
    bodyDay: null,
    bornInMonth: null,
    criterion: null,
    note: '',
  }
  valueOf(await services.handlers['dogs.keep']({ id: null, dog }))
  await services.prepareFirstSample()
  expect(valueOf(await services.handlers['clips.list']({}))).toEqual([])
})

test('the engines in use are told with their reasons', async () => {
  const { services } = await open()
  const lines = valueOf(await services.handlers['engines.report']({}))
  expect(lines[0]).toMatchObject({ job: 'Reading clips', inUse: expect.stringMatching(/^ffmpeg /) as string })
  expect(lines.every(({ why }) => why.length > 5)).toBe(true)
})
