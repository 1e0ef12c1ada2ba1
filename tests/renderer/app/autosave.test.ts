import fc from 'fast-check'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { type Autosave, autosave, type SaveState } from '../../../renderer/app/autosave.ts'

const REST_MS = 300

beforeEach(() => {
  vi.useFakeTimers()
})

afterEach(() => {
  vi.useRealTimers()
})

/** A host that answers when the test says so. What it is sent it takes in at once, in the order of sending. */
class Host {
  readonly sent: number[] = []
  readonly open: { readonly answer: (failure: string | null) => void }[] = []
  kept: number | null = null

  readonly keep = (value: number): Promise<void> => {
    this.sent.push(value)
    return new Promise((resolve, reject) => {
      this.open.push({
        answer: (failure) => {
          if (failure === null) {
            this.kept = value
            resolve()
          } else reject(new Error(failure))
        },
      })
    })
  }

  async answer(which: number, failure: string | null): Promise<void> {
    const [one] = this.open.splice(which % Math.max(1, this.open.length), 1)
    one?.answer(failure)
    await vi.advanceTimersByTimeAsync(0)
  }
}

function opened(): { host: Host; saver: Autosave<number>; settled: () => Promise<SaveState> } {
  const host = new Host()
  const saver = autosave(host.keep, REST_MS)
  return {
    host,
    saver,
    /** Everything sent is answered well until the queue is at rest. */
    async settled() {
      const end = saver.settle()
      for (let answers = 0; answers < 1000 && host.open.length > 0; answers++) await host.answer(0, null)
      return end
    },
  }
}

test('of values in quick succession only the newest is kept', async () => {
  const { host, saver, settled } = opened()
  saver.put(1)
  saver.put(2)
  saver.put(3)
  expect(await settled()).toEqual({ kind: 'kept' })
  expect(host.sent).toEqual([3])
})

test('values are kept one after another, never two at once, and the last one last', async () => {
  const { host, saver, settled } = opened()
  saver.put(1)
  await vi.advanceTimersByTimeAsync(REST_MS)
  saver.put(2)
  await vi.advanceTimersByTimeAsync(REST_MS)
  expect(host.open.length).toBe(1)
  await settled()
  expect(host.sent).toEqual([1, 2])
})

test('a choice made after a slow saving has ended is sent, too', async () => {
  const { host, saver } = opened()
  saver.put(1)
  await vi.advanceTimersByTimeAsync(REST_MS)
  // Chosen while the first is under way, taken along as soon as it is answered, and answered before its rest is over.
  saver.put(2)
  await host.answer(0, null)
  await host.answer(0, null)
  await vi.advanceTimersByTimeAsync(REST_MS)
  saver.put(3)
  await vi.advanceTimersByTimeAsync(REST_MS)
  expect(host.sent).toEqual([1, 2, 3])
})

test('on leaving, what waits is sent at once', () => {
  const { host, saver } = opened()
  saver.leave()
  saver.put(1)
  saver.put(2)
  saver.leave()
  saver.leave()
  expect(host.sent).toEqual([2])
})

test('on leaving, what waits does not wait for what is under way, and still comes last', async () => {
  const { host, saver, settled } = opened()
  saver.put(1)
  await vi.advanceTimersByTimeAsync(REST_MS)
  saver.put(2)
  saver.leave()
  expect(host.sent).toEqual([1, 2])
  await host.answer(1, null)
  expect(await settled()).toEqual({ kind: 'kept' })
  expect(host.sent).toEqual([1, 2, 2])
})

test('what went wrong is told, is held, and is tried again', async () => {
  const { host, saver, settled } = opened()
  const states: string[] = []
  saver.listen(() => states.push(saver.state().kind))
  saver.put(1)
  await vi.advanceTimersByTimeAsync(REST_MS)
  await host.answer(0, 'The disk is full.')
  expect(saver.state()).toEqual({ kind: 'failed', message: 'The disk is full.' })
  expect(saver.unsaved()).toEqual({ value: 1 })
  expect(await settled()).toEqual({ kind: 'kept' })
  expect(host.kept).toBe(1)
  expect(states).toEqual(['keeping', 'failed', 'keeping', 'kept'])
})

/** What may happen, in any order and any number. */
type Step =
  | { readonly kind: 'change' | 'rest' | 'save' | 'leave' }
  /** The host answers one of those that are under way, not always the first. */
  | { readonly kind: 'answer'; readonly which: number; readonly fails: boolean }

const step: fc.Arbitrary<Step> = fc.oneof(
  fc.constantFrom<Step>({ kind: 'change' }, { kind: 'rest' }, { kind: 'save' }, { kind: 'leave' }),
  fc.record({ kind: fc.constant('answer' as const), which: fc.nat(3), fails: fc.boolean() }),
)

test('in every order of changing, resting, saving, leaving, answers and failures nothing is lost', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { maxLength: 40 }), async (steps) => {
      const { host, saver, settled } = opened()
      let newest: number | null = null
      for (const one of steps) {
        switch (one.kind) {
          case 'change':
            newest = (newest ?? 0) + 1
            saver.put(newest)
            break
          case 'rest':
            await vi.advanceTimersByTimeAsync(REST_MS)
            // What has rested is under way, is kept, or failed aloud; it never waits for nothing.
            if (host.open.length === 0) expect(saver.state().kind).not.toBe('keeping')
            break
          case 'save':
            void saver.settle()
            break
          case 'leave':
            saver.leave()
            // The window may be gone now: the newest value has been sent.
            if (newest !== null) expect(host.sent).toContain(newest)
            break
          case 'answer':
            await host.answer(one.which, one.fails ? 'The disk is full.' : null)
            break
        }
        // "Kept" is said of the newest value only, and only once the host has said so.
        if (saver.state().kind === 'kept') expect(host.kept).toBe(newest)
        expect(saver.unsaved()?.value ?? null).toBe(saver.state().kind === 'kept' ? null : newest)
      }
      expect(await settled()).toEqual({ kind: 'kept' })
      expect(host.kept).toBe(newest)
    }),
    { numRuns: 2000 },
  )
})
