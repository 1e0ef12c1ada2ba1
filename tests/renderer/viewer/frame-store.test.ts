import { describe, expect, test } from 'vitest'
import { framesAround, FrameStore } from '../../../renderer/viewer/frame-store.ts'

/** Loads that are answered by hand. */
function slowStore(most: number) {
  const asked: number[] = []
  const discarded: string[] = []
  const changed: number[] = []
  const waiting = new Map<number, { come: () => void; fail: () => void }>()
  const store = new FrameStore<string>({
    most,
    load: (frame, signal) =>
      new Promise((resolve, reject) => {
        asked.push(frame)
        signal.addEventListener('abort', () => reject(new Error('no longer wanted')))
        waiting.set(frame, { come: () => resolve(`picture ${frame}`), fail: () => reject(new Error('gone')) })
      }),
    discard: (picture) => discarded.push(picture),
    onChange: (frame) => changed.push(frame),
  })
  const settle = async (frame: number, how: 'come' | 'fail' = 'come') => {
    waiting.get(frame)![how]()
    await new Promise((resolve) => setTimeout(resolve, 0))
  }
  return { store, asked, discarded, changed, settle }
}

describe('the store of frames', () => {
  test('fetches the most urgent first, four at a time, and goes on as they come', async () => {
    const { store, asked, settle, changed } = slowStore(10)
    store.want([5, 6, 4, 7, 3, 8])
    expect(asked).toEqual([5, 6, 4, 7])
    await settle(5)
    expect(store.get(5)).toBe('picture 5')
    expect(changed).toEqual([5])
    expect(asked).toEqual([5, 6, 4, 7, 3])
  })

  test('gives up what is no longer wanted, and does not take that for a failure', async () => {
    const { store, asked } = slowStore(10)
    store.want([1, 2, 3, 4])
    store.want([100, 101])
    await new Promise((resolve) => setTimeout(resolve, 0))
    expect(asked).toEqual([1, 2, 3, 4, 100, 101])
    expect(store.hasFailed(1)).toBe(false)
  })

  test('holds no more than it may, and frees what is not wanted', async () => {
    const { store, discarded, settle } = slowStore(2)
    store.want([1, 2])
    await settle(1)
    await settle(2)
    store.want([3, 2])
    await settle(3)
    expect(discarded).toEqual(['picture 1'])
    expect([store.get(1), store.get(2), store.get(3)]).toEqual([null, 'picture 2', 'picture 3'])
  })

  test('does not hammer a frame that fails, and tries again when told to', async () => {
    const { store, asked, settle } = slowStore(4)
    store.want([1])
    await settle(1, 'fail')
    store.want([1])
    expect(store.hasFailed(1)).toBe(true)
    expect(asked).toEqual([1])
    store.retry()
    expect(asked).toEqual([1, 1])
  })

  test('frees everything when it is closed, what is still on its way too', async () => {
    const { store, discarded, settle } = slowStore(4)
    store.want([1, 2])
    await settle(1)
    store.close()
    await settle(2)
    expect(discarded).toContain('picture 1')
    expect(store.get(1)).toBeNull()
  })
})

test('frames are held around the one shown, further ahead than behind, within the film', () => {
  expect(framesAround(10, 1, 100, 8)).toEqual([10, 11, 9, 12, 8, 13, 14, 15])
  expect(framesAround(10, -1, 100, 8)).toEqual([10, 9, 11, 8, 12, 7, 6, 5])
  expect(framesAround(0, 1, 3, 8)).toEqual([0, 1, 2])
})
