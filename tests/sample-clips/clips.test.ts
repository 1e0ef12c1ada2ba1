import { readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { CLIPS } from '../../sample-clips/clip-list.ts'

const folder = join(import.meta.dirname, '..', '..', 'sample-clips', 'clips')
const read = (name: string, kind: string) =>
  JSON.parse(readFileSync(join(folder, `${name}.${kind}.json`), 'utf8')) as Record<string, never>

type Points = Record<string, readonly [number, number]>
interface Marks {
  readonly clip: string
  readonly frames: readonly { readonly frame: number; readonly timeS: number; readonly points: Points }[]
}
interface Truth {
  readonly clip: string
  readonly frames: {
    readonly ptsS: readonly number[]
    readonly px: Record<string, readonly (readonly [number, number])[]>
  }
}

test('all clips together take less than 4 MB', () => {
  const bytes = CLIPS.reduce((sum, { name }) => sum + statSync(join(folder, `${name}.mp4`)).size, 0)
  expect(bytes).toBeLessThan(4e6)
})

describe.each(CLIPS.map((clip) => [clip.name]))('%s', (name) => {
  const marks = read(name, 'marks') as unknown as Marks
  const truth = read(name, 'truth') as unknown as Truth

  test('names its clip and has a time for each frame', () => {
    expect([marks.clip, truth.clip]).toEqual([`${name}.mp4`, `${name}.mp4`])
    const clip = CLIPS.find((c) => c.name === name)!
    expect(truth.frames.ptsS).toHaveLength(Math.round(clip.durationS * clip.camera.captureHz))
  })

  test('the clicks are near the true points, and not on them', () => {
    const off = marks.frames.flatMap(({ frame, points }) =>
      Object.entries(points).flatMap(([point, [x, y]]) => {
        const [trueX, trueY] = truth.frames.px[point]![frame]!
        return [x - trueX, y - trueY]
      }),
    )
    expect(off).toHaveLength(14)
    const spread = Math.sqrt(off.reduce((sum, value) => sum + value * value, 0) / off.length)
    expect(spread).toBeGreaterThan(0.6)
    expect(spread).toBeLessThan(2.7)
  })
})
