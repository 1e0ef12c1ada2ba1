import { expect, test } from 'vitest'
import type { FromProposing } from '../../../main/services/proposing-messages.ts'
import { openClipFiles } from '../../../main/services/clips-files.ts'
import { proposingService } from '../../../main/services/proposing-service.ts'
import type { StartWorkerProcess } from '../../../main/services/worker-process.ts'
import { meadowClip, testFolder, testLibrary } from '../library/things.ts'

async function open() {
  const library = await testLibrary()
  const workers: { say: (message: FromProposing) => void; isKilled: boolean }[] = []
  const startWorkerProcess: StartWorkerProcess = () => {
    let onMessage: (message: unknown) => void = () => undefined
    let onExit: (code: number | null) => void = () => undefined
    const worker = { say: (message: FromProposing) => onMessage(message), isKilled: false }
    workers.push(worker)
    return {
      post: () => undefined,
      onMessage: (listener) => (onMessage = listener),
      onExit: (listener) => (onExit = listener),
      kill: () => {
        worker.isKilled = true
        onExit(null)
      },
    }
  }
  const proposing = proposingService(library, openClipFiles(library, await testFolder()), startWorkerProcess)
  return { proposing, workers }
}

const proposed: FromProposing = { kind: 'proposed', search: { offers: [], noneBecause: 'nothing-tips', travel: null } }

test('a clip that is visited again while it is looked at is looked at once', async () => {
  const { proposing, workers } = await open()
  const visits = [proposing.propose(meadowClip), proposing.propose(meadowClip)]
  await expect.poll(() => workers.length).toBe(1)
  await Promise.resolve()
  workers[0]!.say(proposed)
  for (const answer of await Promise.all(visits))
    expect(answer).toEqual({ ok: true, value: { offers: [], noneBecause: 'nothing-tips', travel: null } })
  expect(workers).toMatchObject([{ isKilled: true }])
})

test('going on to another clip ends the look at the one before', async () => {
  const { proposing, workers } = await open()
  const first = proposing.propose(meadowClip)
  await expect.poll(() => workers.length).toBe(1)
  const second = proposing.propose({ ...meadowClip, id: 'other', path: '/films/other.mp4' })
  expect(await first).toMatchObject({ ok: false })
  expect(workers[0]).toMatchObject({ isKilled: true })
  await expect.poll(() => workers.length).toBe(2)
  workers[1]!.say(proposed)
  expect(await second).toEqual({ ok: true, value: { offers: [], noneBecause: 'nothing-tips', travel: null } })
})
