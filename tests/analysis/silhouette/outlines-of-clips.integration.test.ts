import { expect, test } from 'vitest'
import { plankInFrame } from '../../../analysis/drawing/frame-drawing.ts'
import { median } from '../../../analysis/numeric/robust.ts'
import { OUTLINE_UNIT_M } from '../../../analysis/silhouette/outline.ts'
import { plankPicture } from '../../../renderer/viewer/overlay-drawing.ts'
import { CLIPS } from '../../../sample-clips/clip-list.ts'
import { frameTimesS } from '../../../sample-clips/files/frame-times.ts'
import { DogMasks } from '../../../sample-clips/picture/dog-mask.ts'
import { record } from '../../../sample-clips/simulation/recording.ts'
import { clipsWithTruth, SAMPLE_FOLDER } from '../../accuracy/clips-with-truth.ts'
import { measuredClip } from '../../accuracy/measured-clips.ts'

/** Every so many frames are compared. */
const EVERY = 5

/** In what share of the dog's frames there is an outline, and what outlines and true silhouettes share. */
async function comparedIn(name: string): Promise<{ kept: number; shared: number[] }> {
  const clip = (await clipsWithTruth(SAMPLE_FOLDER)).find((one) => one.name === name)!
  const measured = await measuredClip(clip)
  if (measured.kind !== 'rides') throw new Error(`${name} gave no ride`)
  const { picture, dog, measured: ride } = measured.rides[0]!
  const plank = plankPicture(picture, Float64Array.from(ride.frames.ptsS))
  const scenario = CLIPS.find((one) => one.name === name)!
  const masks = new DogMasks(scenario, record(scenario))
  const timesS = frameTimesS(scenario)
  const { widthPx, heightPx } = scenario.camera
  const there = [...dog.bodyM.keys()].filter((k) => dog.bodyM[k] !== null)
  const outlines = picture.outlines ?? []
  const shared = there.flatMap((k) => {
    const outline = outlines[k] ?? null
    if (outline === null || k % EVERY !== 0) return []
    const place = plankInFrame(plank, k)!
    const line = Array.from({ length: outline.length / 2 }, (_, i) =>
      place({ alongM: outline[2 * i]! * OUTLINE_UNIT_M, aboveM: outline[2 * i + 1]! * OUTLINE_UNIT_M, acrossM: 0 }),
    )
    const mask = masks.at(timesS[picture.frameIndex[k]!]!)!
    return [sharedOf(line, mask, widthPx, heightPx)]
  })
  return { kept: there.filter((k) => outlines[k] != null).length / there.length, shared }
}

/** Pixels that a closed line and a mask share, over those in either. */
function sharedOf(
  line: readonly { xPx: number; yPx: number }[],
  mask: Uint8Array,
  widthPx: number,
  heightPx: number,
): number {
  let [both, either] = [0, 0]
  for (let row = 0; row < heightPx; row++) {
    const y = row + 0.5
    const crossings = line.flatMap((a, i) => {
      const b = line[(i + 1) % line.length]!
      return a.yPx > y === b.yPx > y ? [] : [a.xPx + ((y - a.yPx) / (b.yPx - a.yPx)) * (b.xPx - a.xPx)]
    })
    for (let column = 0; column < widthPx; column++) {
      const isInside = crossings.filter((x) => x > column + 0.5).length % 2 === 1
      const isDog = mask[row * widthPx + column] === 1
      if (isInside && isDog) both++
      if (isInside || isDog) either++
    }
  }
  return both / either
}

// 960 px wide pictures: the dogs are 100 px long, their legs 5 px wide; a border off by a pixel all around leaves 0.85.
test.each([
  ['wren-hold', 'nobody else in the picture'],
  ['juno-missed-contact', 'a handler behind the plank'],
  ['biscuit-slow-board', 'a small dog, filmed by hand'],
])('the outlines of %s (%s) are those of the dog that was drawn', async (name) => {
  const { kept, shared } = await comparedIn(name)
  expect(kept).toBeGreaterThan(0.85)
  expect(median(shared)).toBeGreaterThan(0.75)
  expect(Math.min(...shared)).toBeGreaterThan(0.5)
})
