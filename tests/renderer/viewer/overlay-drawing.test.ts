import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { readMarksFile } from '../../../main/files/marks-file.ts'
import { overlayDrawing, plankPicture } from '../../../renderer/viewer/overlay-drawing.ts'
import { wrenHold, wrenHoldParts } from '../../analysis/ride/wren-hold.ts'

const { measured } = wrenHold
const still = plankPicture(wrenHold.picture, wrenHoldParts.track.ptsS)
const { leadPawM, rearPawM, bodyM } = measured.frames
const picture = { ...still, leadPawM, rearPawM, bodyM }

test('the plank is drawn where the marks of the clip have it', async () => {
  const marks = await readMarksFile(
    fileURLToPath(new URL('../../../sample-clips/clips/wren-hold.marks.json', import.meta.url)),
  )
  if (!marks.ok) throw new Error(marks.message)
  const { rest } = marks.value
  const { frame } = overlayDrawing(picture, rest.frame, [])!
  const drawn = [
    [frame.upZoneEdge[0], rest.entryEnd],
    [frame.upBorder[0], rest.upContactEdge],
    [frame.pivot[0], rest.pivot],
    [frame.downBorder[0], rest.downContactEdge],
    [frame.downZoneEdge.at(-1), rest.exitEnd],
  ] as const
  // The marks were jittered by hand-like errors; the calibration's own misfit is 1.5 px.
  for (const [at, mark] of drawn) expect(Math.hypot(at!.xPx - mark.xPx, at!.yPx - mark.yPx)).toBeLessThan(4)
})

test("the dog's extent goes from its rearmost to its foremost paw, and is left out where it is not known", () => {
  expect(overlayDrawing(picture, 0, measured.footfalls)!.dog).toBeNull()
  const k = 90
  const { dog, frame } = overlayDrawing(picture, k, measured.footfalls)!
  expect(dog!.along[0]!.xPx).toBeLessThan(dog!.along[1]!.xPx)
  expect(dog!.body!.tip.xPx).toBeGreaterThan(dog!.along[0]!.xPx - 20)
  expect(frame.paws.length).toBeGreaterThan(0)
})

test('nothing is drawn where the plank was not followed', () => {
  const unseen = { ...picture, angleRad: picture.angleRad.map(() => NaN) }
  expect(overlayDrawing(unseen, 90, measured.footfalls)).toBeNull()
})

test('a ride measured before there were outlines has none, and its extent as before', () => {
  expect(wrenHold.picture.outlines).toBeUndefined()
  const { frame, dog } = overlayDrawing(picture, 90, measured.footfalls)!
  expect(frame.dog).toBeNull()
  expect(dog).not.toBeNull()
})

test('an outline is drawn where its points are about the plank', () => {
  const outlines = measured.frames.ptsS.map((__, k) => (k === 90 ? [0, 0, 732, 0, 366, 100] : null))
  const record = { ...wrenHold.picture, outlines }
  const outlined = { ...plankPicture(record, wrenHoldParts.track.ptsS), leadPawM, rearPawM, bodyM }
  const { frame } = overlayDrawing(outlined, 90, [])!
  const [entry, exit, over] = frame.dog!
  expect(entry).toEqual(frame.upZoneEdge[0])
  expect(exit).toEqual(frame.downZoneEdge.at(-1))
  // Half a metre over the pivot, well above the plank in the picture.
  expect(over!.yPx).toBeLessThan(frame.pivot[0].yPx - 60)
  expect(overlayDrawing(outlined, 91, [])!.frame.dog).toBeNull()
})
