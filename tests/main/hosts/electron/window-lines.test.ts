import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { calls, type CallName } from '../../../../main/contract/calls.ts'
import { type Sender, windowLines } from '../../../../main/hosts/electron/window-lines.ts'
import { type FakeServices, fakeServices, temporaryWindow } from '../fake-services.ts'
import { SAMPLE_INPUTS } from '../sample-inputs.ts'

const ourPage: Sender = { senderFrame: { url: 'app://tiphold/rides/ride-1', parent: null } }
const strangers: readonly (readonly [string, Sender])[] = [
  ['another site', { senderFrame: { url: 'https://evil.example/', parent: null } }],
  ['a site that begins like us', { senderFrame: { url: 'app://tiphold.evil.example/', parent: null } }],
  ['a file', { senderFrame: { url: 'file:///app://tiphold/', parent: null } }],
  ['a frame within our page', { senderFrame: { url: 'app://tiphold/', parent: {} } }],
  ['a frame that is gone', { senderFrame: null }],
]

let place: Awaited<ReturnType<typeof temporaryWindow>>
let services: FakeServices
const log = vi.fn()

beforeEach(async () => {
  place = await temporaryWindow()
  services = fakeServices(place.folder)
})

afterEach(() => place.remove())

test.each(Object.keys(calls) as CallName[])(
  '%s is reachable from the window, and its input arrives whole',
  async (name) => {
    const outcome = await windowLines(services, () => Promise.resolve(null), log).call(
      ourPage,
      name,
      SAMPLE_INPUTS[name],
    )
    expect(outcome).toEqual({ ok: true, value: { name, input: SAMPLE_INPUTS[name] } })
  },
)

test.each(strangers)('a call from %s is refused', async (_who, sender) => {
  const outcome = await windowLines(services, () => Promise.resolve(null), log).call(sender, 'dogs.list', {})
  expect(outcome).toMatchObject({ ok: false, error: { code: 'refused' } })
})

test.each(strangers)('a file from %s is refused', async (_who, sender) => {
  const outcome = await windowLines(services, () => Promise.resolve(null), log).bringFile(
    sender,
    join(place.folder, 'secret.txt'),
  )
  expect(outcome).toMatchObject({ ok: false, error: { code: 'refused' } })
})

test.each(['dogs.eat', '__proto__', null, 7, {}])('a call that nobody knows is refused: %j', async (name) => {
  expect(await windowLines(services, () => Promise.resolve(null), log).call(ourPage, name, {})).toMatchObject({
    error: { code: 'refused' },
  })
})

test('an input that breaks a rule is told by field, rule and value', async () => {
  const outcome = await windowLines(services, () => Promise.resolve(null), log).call(ourPage, 'clips.get', {
    clipId: 7,
  })
  expect(outcome).toEqual({
    ok: false,
    error: { code: 'bad-input', message: 'clipId must be a string; it is 7.' },
  })
})

test('a dropped file gets an id, and its place stays with the shell', async () => {
  const path = join(place.folder, 'clip.mp4')
  await writeFile(path, 'a clip')
  const outcome = await windowLines(services, () => Promise.resolve(null), log).bringFile(ourPage, path)
  expect(JSON.stringify(outcome)).not.toContain(place.folder)
  expect(outcome.ok && services.files.pathOf(outcome.value.fileId)).toBe(path)
})

test.each(['', 'clip.mp4', '../clip.mp4', '/nowhere/clip.mp4', '/nowhere\0/clip.mp4', 7, null])(
  'a file without a place on this machine gets no id: %j',
  async (path) => {
    expect(await windowLines(services, () => Promise.resolve(null), log).bringFile(ourPage, path)).toMatchObject({
      ok: false,
    })
  },
)
