import { expect, test } from 'vitest'
import { TimeLeft } from '../../../main/services/measuring-time-left.ts'

const looking = { step: 'looking', doing: 'looking through the clip', framesDone: 3, framesTotal: 36 } as const
const following = (framesDone: number) =>
  ({ step: 'following', doing: 'following the board and the dog', framesDone, framesTotal: 100 }) as const

test('before the first measurement nothing is foretold until frames are followed', () => {
  const time = new TimeLeft(null, 100, 50)
  expect(time.leftS(looking, 52)).toBeNull()
  expect(time.leftS(following(1), 60)).toBeNull()
  expect(time.leftS(following(20), 62)).toBeCloseTo(0.1 * (80 + 35), 6)
})

test('time left is what the rest and the work afterwards take at the same pace', () => {
  const time = new TimeLeft(null, 100, 0)
  time.leftS(following(1), 10)
  expect(time.leftS(following(50), 15)).toBeCloseTo(0.1 * (50 + 35), 6)
  expect(time.leftS(following(100), 20)).toBeCloseTo(3.5, 6)
})

test('a second measurement is foretold from the start by the pace of the first', () => {
  const first = new TimeLeft(null, 100, 0)
  first.leftS(following(1), 10)
  first.leftS(following(100), 20)
  expect(first.pace).toEqual({ beforeFollowingS: 10, perFrameS: 0.1 })
  const second = new TimeLeft(first.pace, 200, 100)
  expect(second.leftS(looking, 104)).toBeCloseTo(6 + 1.35 * 20, 6)
})

test('a second stretch is told by its own pace', () => {
  const time = new TimeLeft(null, 200, 0)
  time.leftS(following(1), 10)
  time.leftS(following(100), 20)
  time.leftS(following(1), 30)
  expect(time.leftS(following(50), 40)).toBeCloseTo(0.2 * (50 + 35), 6)
})
