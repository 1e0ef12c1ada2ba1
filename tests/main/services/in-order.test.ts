import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { ClipDetail } from '../../../main/contract/clips.ts'
import { success } from '../../../main/contract/outcome.ts'
import { inOrder } from '../../../main/services/in-order.ts'
import { fakeHandlers } from '../../app/fake-handlers.ts'

const setup = { stretch: null, travel: null, slowMotion: null, dogId: null, boardId: null, title: '' }

/** A shelf of clips on which every change takes as many turns of the queue as it is told. */
function slowClips(delays: readonly number[]) {
  const titles = new Map<string, string>()
  let calls = 0
  const titled = (clipId: string) => success({ setup: { ...setup, title: titles.get(clipId) ?? '' } } as ClipDetail)
  return inOrder(
    fakeHandlers({
      'clips.setUp': async ({ clipId, setup: { title } }) => {
        for (let turns = delays[calls++] ?? 0; turns > 0; turns--) await Promise.resolve()
        if (title === 'broken') throw new Error('The disk is full.')
        titles.set(clipId, title)
        return titled(clipId)
      },
      'clips.get': ({ clipId }) => Promise.resolve(titled(clipId)),
    }),
  )
}

test('who asks after a change is answered with it, however long it takes, and the last change stands', async () => {
  const one = fc.record({ clipId: fc.constantFrom('a', 'b'), title: fc.constantFrom('one', 'two', 'three', 'broken') })
  await fc.assert(
    fc.asyncProperty(fc.array(one), fc.array(fc.nat(30)), async (changes, delays) => {
      const handlers = slowClips(delays)
      const checks = changes.flatMap(({ clipId, title }, k) => {
        const expected = changes.slice(0, k + 1).filter((other) => other.clipId === clipId && other.title !== 'broken')
        const changed = handlers['clips.setUp']({ clipId, setup: { ...setup, title } }).catch(() => null)
        const asked = handlers['clips.get']({ clipId }).then((shown) => {
          expect(shown.ok && shown.value.setup.title).toBe(expected.at(-1)?.title ?? '')
        })
        return [changed, asked]
      })
      await Promise.all(checks)
    }),
  )
})

test('a clip does not wait for changes of another', async () => {
  const handlers = inOrder(
    fakeHandlers({
      'clips.setUp': () => new Promise(() => undefined),
      'clips.get': () => Promise.resolve(success({ setup } as ClipDetail)),
    }),
  )
  void handlers['clips.setUp']({ clipId: 'a', setup })
  expect((await handlers['clips.get']({ clipId: 'b' })).ok).toBe(true)
})
