import { expect, test } from 'vitest'
import { autosave, type SaveState } from '../../../renderer/app/autosave.ts'

const NO_REST_MS = 0

test('of values in quick succession only the newest is kept', async () => {
  const kept: number[] = []
  const saver = autosave<number>(
    (value) => {
      kept.push(value)
      return Promise.resolve(null)
    },
    () => undefined,
    NO_REST_MS,
  )
  saver.put(1)
  saver.put(2)
  saver.put(3)
  expect(await saver.settle()).toEqual({ kind: 'kept' })
  expect(kept).toEqual([3])
})

test('values are kept one after another, never two at once, and the last one last', async () => {
  const kept: number[] = []
  let atWork = 0
  let mostAtWork = 0
  const saver = autosave<number>(
    async (value) => {
      mostAtWork = Math.max(mostAtWork, ++atWork)
      await new Promise((resolve) => setTimeout(resolve, 5))
      atWork--
      kept.push(value)
      return null
    },
    () => undefined,
    NO_REST_MS,
  )
  saver.put(1)
  const first = saver.settle()
  saver.put(2)
  await first
  await saver.settle()
  expect({ kept, mostAtWork }).toEqual({ kept: [1, 2], mostAtWork: 1 })
})

test('on leaving, what waits is sent at once', () => {
  const sent: number[] = []
  const saver = autosave<number>(
    (value) => {
      sent.push(value)
      return Promise.resolve(null)
    },
    () => undefined,
    60_000,
  )
  saver.leave()
  saver.put(1)
  saver.put(2)
  saver.leave()
  expect(sent).toEqual([2])
})

test('on leaving, what waits does not wait for what is under way, and still comes last', async () => {
  const sent: number[] = []
  const ends: (() => void)[] = []
  const saver = autosave<number>(
    (value) => {
      sent.push(value)
      return new Promise((resolve) => ends.push(() => resolve(null)))
    },
    () => undefined,
    60_000,
  )
  saver.put(1)
  const settled = saver.settle()
  saver.put(2)
  saver.leave()
  expect(sent).toEqual([1, 2])
  ends[1]!()
  ends[0]!()
  await Promise.resolve()
  await Promise.resolve()
  expect(sent).toEqual([1, 2, 2])
  ends[2]!()
  expect(await settled).toEqual({ kind: 'kept' })
})

test('what went wrong is told, and the next value can put it right', async () => {
  const states: SaveState[] = []
  const saver = autosave<string>(
    (value) => Promise.resolve(value === 'bad' ? 'The disk is full.' : null),
    (state) => states.push(state),
    NO_REST_MS,
  )
  saver.put('bad')
  expect(await saver.settle()).toEqual({ kind: 'failed', message: 'The disk is full.' })
  saver.put('good')
  expect(await saver.settle()).toEqual({ kind: 'kept' })
  expect(states.map(({ kind }) => kind)).toEqual(['keeping', 'failed', 'keeping', 'kept'])
})
