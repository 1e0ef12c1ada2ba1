import { expect, test } from 'vitest'
import { PictureQueue } from '../../../../main/film/media/picture-queue.ts'
import { RawCutter } from '../../../../main/film/media/raw-cutter.ts'

test('pictures are cut from chunks of any size and joined with their times in order', async () => {
  const queue = new PictureQueue(new RawCutter(3, 4))
  queue.put(Buffer.of(1))
  queue.put(Buffer.of(1, 1, 2, 2))
  queue.putTime(0.1)
  queue.putComplaint()
  queue.putTime(0.2)
  queue.put(Buffer.of(2))
  expect(await queue.take()).toEqual({ picture: Uint8Array.of(1, 1, 1), rawS: 0.1, complaints: 0 })
  expect(await queue.take()).toEqual({ picture: Uint8Array.of(2, 2, 2), rawS: 0.2, complaints: 1 })
})

test('a picture waits for its time, and a time for its picture', async () => {
  const queue = new PictureQueue(new RawCutter(1, 2))
  const first = queue.take()
  queue.put(Buffer.of(7))
  queue.putTime(1)
  expect(await first).toEqual({ picture: Uint8Array.of(7), rawS: 1, complaints: 0 })
  const second = queue.take()
  queue.putTime(2)
  queue.put(Buffer.of(8))
  expect(await second).toEqual({ picture: Uint8Array.of(8), rawS: 2, complaints: 0 })
})

test('a full queue asks the source to wait, and loses nothing of what comes all the same', async () => {
  const queue = new PictureQueue(new RawCutter(2, 1))
  expect(queue.put(Buffer.of(1, 1, 2))).toBe(false)
  expect(queue.put(Buffer.of(2, 3, 3))).toBe(false)
  for (const rawS of [1, 2, 3]) queue.putTime(rawS)
  queue.end()
  const rooms: boolean[] = []
  const values: number[] = []
  for (let one = await queue.take(); one !== null; one = await queue.take()) {
    values.push(...one.picture)
    rooms.push(queue.giveBack(one.picture))
  }
  expect(values).toEqual([1, 1, 2, 2, 3, 3])
  expect(rooms).toEqual([false, true, true])
})

test('a picture that is not whole when the source ends is not given', async () => {
  const queue = new PictureQueue(new RawCutter(2, 2))
  queue.put(Buffer.of(1, 1, 2))
  queue.putTime(1)
  queue.putTime(2)
  queue.end()
  expect(await queue.take()).not.toBeNull()
  expect(await queue.take()).toBeNull()
})
