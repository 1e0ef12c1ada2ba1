import { expect, test } from 'vitest'
import type { Client, Happening } from '../../../main/contract/calls.ts'
import type { Job, JobState } from '../../../main/contract/jobs.ts'
import { success } from '../../../main/contract/outcome.ts'
import { askForJobs } from '../../../renderer/host/ask-for-jobs.ts'

const RUNNING: JobState = { kind: 'running', doing: 'following the board', framesDone: 1, framesTotal: 9, leftS: null }
const DONE: JobState = { kind: 'done', rideIds: ['ride-1'] }
const job = (id: string, state: JobState) => ({ id, clipId: 'clip-1', fileName: 'a.mp4', state }) as Job

/** A host whose answer comes when the test lets it. */
function host() {
  const listeners = new Set<(happening: Happening) => void>()
  let answer: (jobs: readonly Job[]) => void = () => undefined
  const client = {
    call: () => new Promise((resolve) => (answer = (jobs) => resolve(success(jobs)))),
    listen: (listener: (happening: Happening) => void) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  } as unknown as Client
  const tell = (told: Job) => listeners.forEach((listener) => listener({ kind: 'job', job: told }))
  return { client, tell, answer: (jobs: readonly Job[]) => answer(jobs), listeners }
}

test('a job whose end is told while an older answer is on the way has ended', async () => {
  const { client, tell, answer, listeners } = host()
  const asked = askForJobs(client)
  tell(job('a', DONE))
  tell(job('c', RUNNING))
  answer([job('a', RUNNING), job('b', RUNNING)])
  expect(await asked).toEqual([job('a', DONE), job('b', RUNNING), job('c', RUNNING)])
  expect(listeners.size).toBe(0)
})

test('nothing is told meanwhile: the answer is as it came', async () => {
  const { client, answer } = host()
  const asked = askForJobs(client)
  answer([job('a', RUNNING)])
  expect(await asked).toEqual([job('a', RUNNING)])
})
