import { expect, test } from 'vitest'
import {
  imageFromScreen,
  moved,
  screenFromImage,
  showing,
  wholePicture,
  zoomed,
} from '../../../renderer/marking/view.ts'

const picture = { widthPx: 1920, heightPx: 1080 }
const frame = { widthPx: 800, heightPx: 600 }

test('the whole picture is as large as it can be and stands in the middle', () => {
  expect(wholePicture(picture, frame)).toEqual({ zoom: 800 / 1920, offsetXPx: 0, offsetYPx: 75 })
})

test('a place on the screen and its place in the picture are one', () => {
  const view = zoomed(wholePicture(picture, frame), 5, { leftPx: 300, topPx: 200 }, picture, frame)
  const point = { xPx: 612.25, yPx: 400.5 }
  const back = imageFromScreen(view, screenFromImage(view, point))
  expect(back.xPx).toBeCloseTo(point.xPx, 9)
  expect(back.yPx).toBeCloseTo(point.yPx, 9)
})

test('zooming holds the place under the pointer', () => {
  const about = { leftPx: 400, topPx: 300 }
  const before = wholePicture(picture, frame)
  const after = zoomed(before, 4, about, picture, frame)
  const [was, is] = [imageFromScreen(before, about), imageFromScreen(after, about)]
  expect(is.xPx).toBeCloseTo(was.xPx, 9)
  expect(is.yPx).toBeCloseTo(was.yPx, 9)
})

test('one cannot go further away than the whole picture, nor closer than 24 screen px a pixel', () => {
  const whole = wholePicture(picture, frame)
  expect(zoomed(whole, 0.1, { leftPx: 0, topPx: 0 }, picture, frame)).toEqual(whole)
  expect(zoomed(whole, 1e6, { leftPx: 0, topPx: 0 }, picture, frame).zoom).toBe(24)
})

test('a close picture cannot be pushed out of its frame', () => {
  const close = zoomed(wholePicture(picture, frame), 10, { leftPx: 400, topPx: 300 }, picture, frame)
  const pushed = moved(close, 1e5, -1e5, picture, frame)
  expect(pushed.offsetXPx).toBe(0)
  expect(pushed.offsetYPx).toBe(frame.heightPx - pushed.zoom * picture.heightPx)
})

test('a point outside of what is shown is brought in, one inside moves nothing', () => {
  const close = zoomed(wholePicture(picture, frame), 10, { leftPx: 0, topPx: 100 }, picture, frame)
  const far = { xPx: 1500, yPx: 900 }
  const brought = screenFromImage(showing(close, far, picture, frame), far)
  expect(brought.leftPx).toBeCloseTo(740, 6)
  expect(brought.topPx).toBeCloseTo(540, 6)
  const near = imageFromScreen(close, { leftPx: 400, topPx: 300 })
  expect(showing(close, near, picture, frame)).toBe(close)
})
