import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { calls, type Happening } from '../../../main/contract/calls.ts'
import { BRIDGE_NAME } from '../../../main/contract/host-bridge.ts'
import { affectedCalls } from '../../../renderer/host/affected-calls.ts'
import { openClient } from '../../../renderer/host/client.ts'
import { withJob } from '../../../renderer/host/jobs-in-order.ts'
import { loopbackClient } from '../../../renderer/host/loopback-client.ts'
import { ProblemError, valueOrThrow } from '../../../renderer/host/problem-error.ts'

const VISIT = { askKey: 'a'.repeat(43), viewKey: 'v'.repeat(43) }

/** Stands for the browser's stream of events. */
class FakeStream extends EventTarget {
  static opened: FakeStream[] = []
  isClosed = false

  readonly address: string

  constructor(address: string) {
    super()
    this.address = address
    FakeStream.opened.push(this)
  }

  close(): void {
    this.isClosed = true
  }

  tell(happening: Happening): void {
    this.dispatchEvent(Object.assign(new Event('message'), { data: JSON.stringify(happening) }))
  }
}

beforeEach(() => {
  FakeStream.opened = []
  vi.stubGlobal('EventSource', FakeStream)
})

afterEach(() => vi.unstubAllGlobals())

test('a host that is gone is told in a sentence, not thrown', async () => {
  vi.stubGlobal('fetch', () => Promise.reject(new TypeError('failed to fetch')))
  const outcome = await loopbackClient(VISIT).call('dogs.list', {})
  expect(outcome).toMatchObject({ ok: false, error: { code: 'failed' } })
})

test('a call is posted as JSON and its outcome comes back', async () => {
  const fetched = vi.fn(() => Promise.resolve(Response.json({ ok: true, value: [] })))
  vi.stubGlobal('fetch', fetched)
  expect(await loopbackClient(VISIT).call('clips.get', { clipId: 'clip-1' })).toEqual({ ok: true, value: [] })
  expect(fetched).toHaveBeenCalledWith('/call/clips.get', {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'x-tiphold-visit': VISIT.askKey },
    body: new TextEncoder().encode('{"clipId":"clip-1"}'),
    keepalive: true,
  })
})

test('only what is small enough for it is sent so that it outlives the page', async () => {
  const fetched = vi.fn<typeof fetch>(() => Promise.resolve(Response.json({ ok: true, value: [] })))
  vi.stubGlobal('fetch', fetched)
  await loopbackClient(VISIT).call('clips.get', { clipId: 'x'.repeat(70_000) })
  expect(fetched.mock.calls[0]?.[1]?.keepalive).toBe(false)
})

test('what a browser fetches without headers has the key for looking in its path, and no other key', () => {
  const client = loopbackClient(VISIT)
  client.listen(vi.fn())
  expect(client.pictureAddress('clip-1', 7, 'small')).toBe(`/view/${VISIT.viewKey}/pictures/clip-1/small/7`)
  expect(FakeStream.opened[0]?.address).toBe(`/view/${VISIT.viewKey}/happenings`)
})

test('all who listen share one stream, which is closed with the last of them', () => {
  const client = loopbackClient(VISIT)
  const [one, other] = [vi.fn(), vi.fn()]
  const stops = [client.listen(one), client.listen(other)]
  const [stream] = FakeStream.opened
  stream?.tell({ kind: 'changed', what: 'dogs' })
  expect([one.mock.calls.length, other.mock.calls.length, FakeStream.opened.length]).toEqual([1, 1, 1])
  stops[0]?.()
  expect(stream?.isClosed).toBe(false)
  stops[1]?.()
  expect(stream?.isClosed).toBe(true)
})

test('after a cut everything counts as changed, since nobody knows what was missed', () => {
  const told: Happening[] = []
  loopbackClient(VISIT).listen((happening) => told.push(happening))
  const [stream] = FakeStream.opened
  stream?.dispatchEvent(new Event('open'))
  expect(told).toEqual([])
  stream?.dispatchEvent(new Event('open'))
  expect(told.map((happening) => (happening.kind === 'changed' ? happening.what : null))).toEqual([
    'dogs',
    'boards',
    'clips',
    'rides',
    'noted',
    'packs',
    'settings',
  ])
})

test('in the desktop shell the bridge is used, and the file itself is handed to it', async () => {
  const bringFile = vi.fn(() => Promise.resolve({ ok: true, value: { fileId: 'file-1' } }))
  vi.stubGlobal(BRIDGE_NAME, { call: vi.fn(), listen: vi.fn(), bringFile })
  const file = new File(['a clip'], 'clip.mp4')
  const shares: number[] = []
  const outcome = await openClient().bringFile(file, (share) => shares.push(share))
  expect(outcome).toEqual({ ok: true, value: { fileId: 'file-1' } })
  expect(bringFile).toHaveBeenCalledWith(file)
  expect(shares).toEqual([1])
})

test('a change of any kind makes at least its own lists old, and every name is one of a call', () => {
  for (const what of ['dogs', 'boards', 'clips', 'rides', 'noted', 'packs', 'settings'] as const) {
    const affected = affectedCalls(what)
    expect(affected.has(what === 'settings' || what === 'noted' ? `${what}.get` : `${what}.list`)).toBe(true)
    expect([...affected].filter((name) => !(name in calls))).toEqual([])
  }
})

test('a job takes the place of its former state, and a new one comes last', () => {
  const waiting = { id: 'job-1', clipId: 'clip-1', state: { kind: 'waiting', ahead: 0 } } as const
  const done = { ...waiting, state: { kind: 'done', rideIds: ['ride-1'] } } as const
  const other = { ...waiting, id: 'job-2' }
  expect(withJob([waiting, other], done)).toEqual([done, other])
  expect(withJob([waiting], other)).toEqual([waiting, other])
})

test('a problem becomes an error that keeps its code and its sentence', () => {
  const outcome = { ok: false, error: { code: 'not-found', message: 'This ride is gone.' } } as const
  expect(() => valueOrThrow(outcome)).toThrow(new ProblemError(outcome.error))
  expect(valueOrThrow({ ok: true, value: 7 })).toBe(7)
})
