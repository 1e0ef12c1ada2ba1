import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest'
import type { MarksDraft } from '../../../main/contract/clips.ts'
import type { Outcome } from '../../../main/contract/outcome.ts'
import { openServices } from '../../../main/services/services.ts'
import { forkWorkerProcess } from '../../../main/services/worker-process.ts'
import { testFolder } from '../library/things.ts'
import { clipFolder, ffmpeg } from '../film/media/made-clips.ts'

const SAMPLES = join(import.meta.dirname, '../../../sample-clips/clips')
const TURN_RAD = 0.014
const SHIFT_PX = { x: 14, y: 10 }

const made = clipFolder()
afterAll(made.remove)

/** The same place after somebody ran into the tripod: turned by 0.8 deg and pushed by some pixels. */
beforeAll(async () => {
  const bump = `rotate=${TURN_RAD}:bilinear=1,crop=${960 - SHIFT_PX.x}:${540 - SHIFT_PX.y}:${SHIFT_PX.x}:${SHIFT_PX.y},pad=960:540:0:0`
  await ffmpeg(['-i', join(SAMPLES, 'wren-hold.mp4'), '-vf', bump, '-crf', '22', made.path('second.mp4')])
  await ffmpeg(['-i', join(SAMPLES, 'wren-hold.mp4'), '-t', '2.2', '-crf', '22', made.path('before the tip.mp4')])
})

function bumped([xPx, yPx]: readonly [number, number]) {
  const [x, y] = [xPx - 480, yPx - 270]
  const [sin, cos] = [Math.sin(TURN_RAD), Math.cos(TURN_RAD)]
  return { xPx: 480 + cos * x - sin * y - SHIFT_PX.x, yPx: 270 + sin * x + cos * y - SHIFT_PX.y }
}

async function open() {
  const libraryFolder = join(await testFolder(), 'library')
  const services = valueOf(
    await openServices({ libraryFolder, samplesFolder: SAMPLES, startWorkerProcess: forkWorkerProcess }),
  )
  onTestFinished(() => services.close())
  const takeIn = async (path: string) => {
    const { fileId } = valueOf(await services.files.register(path))
    return valueOf(await services.handlers['clips.takeIn']({ fileId }))
  }
  const proposed = async (clipId: string) => valueOf(await services.handlers['clips.proposeMarks']({ clipId })).offers
  return { services, takeIn, proposed }
}

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}

const NAMES = ['entryEnd', 'exitEnd', 'pivot', 'upContactEdge', 'downContactEdge'] as const

interface Truth {
  readonly frames: {
    readonly angleDeg: readonly number[]
    readonly px: Readonly<Record<string, readonly (readonly [number, number])[]>>
  }
}

async function truthOf(name: string): Promise<Truth> {
  return JSON.parse(await readFile(join(SAMPLES, `${name}.truth.json`), 'utf8')) as Truth
}

test('marks are carried over to the next clip of a tripod that was bumped in between, within 1.2 px of the truth', async () => {
  const { services, takeIn, proposed } = await open()
  await services.handlers['samples.takeIn']({ name: 'wren-hold' })
  const second = await takeIn(made.path('second.mp4'))
  const [carried] = await proposed(second.card.id)
  expect(carried?.from).toBe('as in wren-hold.mp4, same camera place')
  const marks: MarksDraft = carried!.marks
  const { frames } = await truthOf('wren-hold')
  for (const name of NAMES) {
    const [is, should] = [marks.rest![name]!, bumped(frames.px[name]![marks.rest!.frame]!)]
    expect(Math.hypot(is.xPx - should.xPx, is.yPx - should.yPx)).toBeLessThan(1.2)
  }
  const { exitEnd, frame } = marks.grounded!
  const landed = bumped(frames.px['exitEnd']![frame]!)
  expect(Math.hypot(exitEnd!.xPx - landed.xPx, exitEnd!.yPx - landed.yPx)).toBeLessThan(1.2)
  // It lands at 3.27 s, frame 98 of 30 a second, and then lies until the dog has gone.
  expect(frame).toBeGreaterThan(97)
  expect(carried!.misfit!.px).toBeLessThan(3)
  expect(carried!.misfit!.m).toBeLessThan(0.02)
  expect(carried!.advice).toMatch(/looks the same \(\d\d %\)/)
})

// Not moth-slow-motion: in its small picture the bands along the plank can be read in two ways, and nothing is offered.
test.each(['wren-hold', 'biscuit-slow-board'])(
  'nothing is carried over to %s from another place, another size or itself: its plank is found without a hint, each point within a px of the truth',
  async (name) => {
    const { services, proposed } = await open()
    for (const other of ['juno-missed-contact', 'moth-slow-motion']) {
      await services.handlers['samples.takeIn']({ name: other })
    }
    const { card } = valueOf(await services.handlers['samples.takeIn']({ name }))
    const proposals = await proposed(card.id)
    expect(proposals.filter(({ from }) => from.startsWith('as in'))).toEqual([])
    const [found] = proposals.filter(({ from }) => from.startsWith('found'))
    const { frames } = await truthOf(name)
    const { rest, grounded } = found!.marks
    const offsPx = [rest!, grounded!].flatMap(({ frame, ...points }) =>
      Object.entries(points).flatMap(([point, at]) => {
        const [x, y] = frames.px[point]![frame]!
        return at === null ? [] : [Math.hypot(at.xPx - x, at.yPx - y)]
      }),
    )
    // Of seven points one may be hidden by the dog.
    expect(offsPx.length).toBeGreaterThanOrEqual(6)
    expect(Math.max(...offsPx)).toBeLessThan(1)
    expect(Math.max(...frames.angleDeg) - frames.angleDeg[grounded!.frame]!).toBeLessThan(0.1)
    expect(found!.misfit!.px).toBeLessThan(0.8)
  },
)

test('no plank is found in a clip in which none tips', async () => {
  const { takeIn, proposed } = await open()
  const { card } = await takeIn(made.path('before the tip.mp4'))
  expect(await proposed(card.id)).toEqual([])
})
