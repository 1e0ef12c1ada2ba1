import { describe, expect, test } from 'vitest'
import { ProgressLine, progressText } from '../../../main/cli/progress-line.ts'

const step = (framesDone: number) => ({
  step: 'following' as const,
  doing: 'following the board',
  framesDone,
  framesTotal: 100,
})

/** Feeds a frame every 50 ms and gives what was written. */
function told(isTTY: boolean, isAskedFor: boolean): string[] {
  const written: string[] = []
  let nowMs = 0
  const line = new ProgressLine({ isTTY, write: (text) => written.push(text) }, isAskedFor, () => nowMs)
  for (let done = 1; done <= 100; done++) {
    nowMs = done * 50
    line.update(step(done))
  }
  line.clear()
  return written
}

describe('progress', () => {
  test('says frames done, rate and time left', () => {
    expect(progressText(step(50), 2)).toBe('following the board: 50 of 100 frames, 25 a second, 2 s left')
    expect(progressText({ ...step(10), framesTotal: 10_010 }, 2)).toBe(
      'following the board: 10 of 10010 frames, 5.0 a second, 33 min left',
    )
  })

  test('gives no rate before there is one, and no count where frames are not counted', () => {
    expect(progressText(step(0), 5)).toBe('following the board: 0 of 100 frames')
    expect(progressText({ step: 'reading', doing: 'reading the clip', framesDone: 0, framesTotal: 0 }, 5)).toBe(
      'reading the clip',
    )
  })

  test('renews one line on a terminal, ten times a second at most, and takes it away', () => {
    const written = told(true, false)
    expect(written.length).toBeLessThanOrEqual(5 / 0.1 + 2)
    expect(written.every((text) => text.startsWith('\r\u001b[K') && !text.includes('\n'))).toBe(true)
    expect(written.at(-1)).toBe('\r\u001b[K')
  })

  test('is quiet where nobody watches, unless asked for', () => {
    expect(told(false, false)).toEqual([])
    const written = told(false, true)
    // At the start, every 2 s, and at the end.
    expect(written).toHaveLength(4)
    expect(written.at(-1)).toMatch(/^following the board: 100 of 100 frames, \d+ a second, 0 s left\n$/)
  })
})
