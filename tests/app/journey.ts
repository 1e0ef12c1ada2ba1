import type { Page } from 'playwright-core'
import type { ImagePx } from '../../analysis/geometry/points.ts'
import type { MarksDraft } from '../../main/contract/clips.ts'
import { POINT_TITLES, type PointId, pointOf, POINTS } from '../../renderer/marking/mark-point.ts'
import { type View, screenFromImage, wholePicture } from '../../renderer/marking/view.ts'

/** The steps that a handler takes with a clip, by mouse and by keys. Nothing here knows how the window is served. */

const picture = { widthPx: 960, heightPx: 540 }

/** Start: hands clips over through the file chooser. */
export async function bringFiles(page: Page, paths: readonly string[]): Promise<void> {
  const button = page.getByRole('button', { name: 'Choose a file' })
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), button.click()])
  await chooser.setFiles([...paths])
}

/** Set-up: the dog crosses to the right, on a new board of the UK, and has a new name. */
export async function setUp(page: Page, board: string, dog: string): Promise<void> {
  await page.getByText('to the right', { exact: true }).click()
  await page.getByRole('button', { name: 'New board' }).click()
  await page.getByRole('textbox', { name: 'Name' }).fill(board)
  await page.getByRole('button', { name: 'Save' }).click()
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  await page.getByRole('button', { name: 'New dog' }).click()
  await page.getByRole('textbox', { name: 'Name' }).fill(dog)
  await page.getByRole('button', { name: 'Save' }).click()
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  await page.getByRole('button', { name: 'Mark the plank' }).click()
  await page.getByRole('heading', { name: 'Mark the plank' }).waitFor()
}

/** Marking: clicks every point in the whole picture. */
export async function markByMouse(page: Page, marks: MarksDraft): Promise<void> {
  await page.getByRole('img', { name: 'Frame 0 of the clip' }).waitFor()
  await chooseFrame(page, marks.rest!.frame)
  for (const name of POINTS.rest) await clickOn(page, pointOf(marks, { moment: 'rest', name })!)
  await page.getByRole('button', { name: 'Next: the landing' }).click()
  await chooseFrame(page, marks.grounded!.frame)
  for (const name of POINTS.grounded) await clickOn(page, pointOf(marks, { moment: 'grounded', name })!)
}

/** Where a point of the picture lies in the window while the whole picture is shown. */
export async function windowPlace(page: Page, point: ImagePx): Promise<{ readonly x: number; readonly y: number }> {
  const box = (await page.locator('.viewer-place').boundingBox())!
  const view: View = wholePicture(picture, { widthPx: box.width, heightPx: box.height })
  const { leftPx, topPx } = screenFromImage(view, point)
  return { x: box.x + leftPx, y: box.y + topPx }
}

async function clickOn(page: Page, point: ImagePx): Promise<void> {
  const { x, y } = await windowPlace(page, point)
  await page.mouse.click(x, y)
}

async function chooseFrame(page: Page, frame: number): Promise<void> {
  await page.getByRole('slider', { name: /A frame with/ }).fill(String(frame))
  await page.getByRole('img', { name: `Frame ${frame} of the clip` }).waitFor()
}

/** Presses Tab until a control with this name is in focus. */
export async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let presses = 0; presses < 60; presses++) {
    if (name.test(await nameInFocus(page))) return
    await page.keyboard.press('Tab')
  }
  throw new Error(`Tab does not lead to ${name.source}`)
}

/** What a screen reader says of the control in focus: its role and name. */
export async function nameInFocus(page: Page): Promise<string> {
  const focused = page.locator(':focus')
  if ((await focused.count()) === 0) return ''
  // What lies inside of it stands in the lines below.
  return (await focused.ariaSnapshot()).split('\n')[0] ?? ''
}

/** Marking: places and moves every point by keys alone. */
export async function markByKeys(page: Page, marks: MarksDraft): Promise<void> {
  await chooseFrameByKeys(page, marks.rest!.frame - 1)
  for (const name of POINTS.rest) await placeByKeys(page, { moment: 'rest', name }, marks)
  await tabTo(page, /Next: the landing/)
  await page.keyboard.press('Enter')
  await chooseFrameByKeys(page, marks.grounded!.frame - 1)
  for (const name of POINTS.grounded) await placeByKeys(page, { moment: 'grounded', name }, marks)
}

/** By the slider's long steps, then by its short ones. */
async function chooseFrameByKeys(page: Page, frame: number): Promise<void> {
  await tabTo(page, /slider "A frame with/)
  for (let now = await frameShown(page), before = NaN; now !== frame && now !== before;) {
    const [key, long] = now < frame ? ['ArrowRight', 'PageUp'] : ['ArrowLeft', 'PageDown']
    await page.keyboard.press(Math.abs(frame - now) > 20 ? long : key)
    before = now
    now = await frameShown(page)
  }
}

async function placeByKeys(page: Page, id: PointId, marks: MarksDraft): Promise<void> {
  const title = POINT_TITLES[id.name]
  await tabTo(page, new RegExp(title))
  await page.keyboard.press('Enter')
  const target = pointOf(marks, id)!
  const at = await placeInFocus(page)
  await walk(page, target.xPx - at.xPx, ['ArrowLeft', 'ArrowRight'])
  await walk(page, target.yPx - at.yPx, ['ArrowUp', 'ArrowDown'])
  // The first point turns to the frame itself.
  const frame = marks[id.moment]!.frame
  for (let now = await frameShown(page); now !== frame; now += Math.sign(frame - now)) {
    await page.keyboard.press(now < frame ? 'PageDown' : 'PageUp')
  }
}

async function placeInFocus(page: Page): Promise<ImagePx> {
  const name = await nameInFocus(page)
  const found = /at (-?[\d.]+), (-?[\d.]+)/.exec(name)
  if (found === null) throw new Error(`The point in focus does not say where it is: ${name}`)
  return { xPx: Number(found[1]), yPx: Number(found[2]) }
}

async function frameShown(page: Page): Promise<number> {
  return Number(await page.getByRole('slider', { name: /A frame with/ }).inputValue())
}

async function walk(page: Page, byPx: number, [less, more]: readonly [string, string]): Promise<void> {
  const key = byPx < 0 ? less : more
  let leftPx = Math.abs(byPx)
  for (const [modifier, stepPx] of [
    ['Control+', 25],
    ['Shift+', 2],
    ['', 0.25],
  ] as const) {
    const presses = stepPx === 0.25 ? Math.round(leftPx / stepPx) : Math.floor(leftPx / stepPx)
    for (let press = 0; press < presses; press++) await page.keyboard.press(`${modifier}${key}`)
    leftPx -= presses * stepPx
  }
}
