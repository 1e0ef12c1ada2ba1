import { rm } from 'node:fs/promises'
import { afterEach, expect, test } from 'vitest'
import { needs } from '../report/needs.ts'
import { wrenMarks } from '../renderer/marking/wren.ts'
import { bringFiles, markByKeys, markByMouse, setUp, tabTo, windowPlace } from './journey.ts'
import { newLibraryFolder, openWindow, type OpenWindow, sampleClip } from './open-window.ts'

let opened: OpenWindow | null = null
let folder: string | null = null

afterEach(async () => {
  await opened?.close()
  if (folder !== null) await rm(folder, { recursive: true, force: true })
  opened = null
  folder = null
})

async function openFresh(): Promise<OpenWindow> {
  folder = await newLibraryFolder()
  opened = await openWindow(folder)
  return opened
}

test('a clip goes from the file chooser to a ride by mouse, and all is there again after a restart', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await openFresh()
  await bringFiles(page, [sampleClip('wren-hold.mp4')])
  await setUp(page, 'Club aluminium', 'Juniper')
  await markByMouse(page, wrenMarks())
  await page.getByText('The marks fit the board.').waitFor()
  await page.getByRole('button', { name: 'Measure' }).click()
  await page.waitForURL(/#\/rides\//)

  await opened!.close()
  opened = await openWindow(folder!)
  const again = opened.page
  // The dog left 1.04 s after the landing (the clip's own truth): the line of a list tells it.
  const card = again.getByRole('link', { name: /Juniper/ })
  await card.waitFor()
  expect(await card.innerText()).toMatch(/Club aluminium[^]*Left 1\.0\d s after the landing/)
  await again.getByRole('link', { name: 'Dogs' }).click()
  await again.getByText('Juniper').waitFor()
  await again.getByRole('link', { name: 'Boards' }).click()
  expect(await again.getByText('366 cm long').innerText()).toContain('zones of 91.4 cm')
})

test('a clip goes from the file chooser to a ride by keys alone', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await openFresh()
  await tabTo(page, /button "Choose a file"/)
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.keyboard.press('Enter')])
  await chooser.setFiles(sampleClip('wren-hold.mp4'))
  await page.getByRole('heading', { name: 'Set-up' }).waitFor()
  await tabTo(page, /radio "to the/)
  await page.keyboard.press('ArrowRight')
  await tabTo(page, /button "New board"/)
  await page.keyboard.press('Enter')
  await tabTo(page, /textbox "Name"/)
  await page.keyboard.type('Club aluminium')
  await page.keyboard.press('Enter')
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  await tabTo(page, /button "On to marking"/)
  await page.keyboard.press('Enter')
  await page.getByRole('heading', { name: 'Mark the plank' }).waitFor()
  await markByKeys(page, wrenMarks())
  await page.getByText('The marks fit the board.').waitFor()
  await tabTo(page, /button "Measure"/)
  await page.keyboard.press('Enter')
  await page.waitForURL(/#\/rides\//)
  expect(opened!.problems()).toEqual([])
})

test('a wrong click is shown at once, and is taken back by Ctrl+Z', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await openFresh()
  await bringFiles(page, [sampleClip('wren-hold.mp4')])
  await setUp(page, 'Club aluminium', 'Juniper')
  const marks = wrenMarks()
  await markByMouse(page, marks)
  await page.getByText('Board at rest').click()
  const { x, y } = await windowPlace(page, marks.rest!.pivot!)
  await page.mouse.move(x, y)
  await page.mouse.down()
  await page.mouse.move(x + 20, y + 6, { steps: 4 })
  await page.mouse.up()
  await page.getByText(/^The pivot .* mark it again/).waitFor()
  expect(await page.getByRole('button', { name: 'Measure' }).isDisabled()).toBe(true)
  await page.keyboard.press('Control+z')
  await page.getByText('The marks fit the board.').waitFor()
  expect(await page.getByRole('button', { name: 'Measure' }).isDisabled()).toBe(false)
})

test('marks are kept without being told to, half-way too', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await openFresh()
  await bringFiles(page, [sampleClip('wren-hold.mp4')])
  await setUp(page, 'Club aluminium', 'Juniper')
  await tabTo(page, /button "Entry end/)
  await page.keyboard.press('Enter')
  await page.keyboard.press('Shift+ArrowRight')
  await page.getByRole('button', { name: 'Entry end, at 482.00, 270.00' }).waitFor()
  await page.getByRole('link', { name: 'Start', exact: true }).click()
  await page.getByRole('link', { name: 'Mark' }).click()
  await page.getByRole('button', { name: 'Entry end, at 482.00, 270.00' }).waitFor()
  // And again from what the host has kept.
  await page.reload()
  await page.getByRole('button', { name: 'Entry end, at 482.00, 270.00' }).waitFor()
  expect(await page.getByRole('button', { name: 'Exit end, not placed' }).count()).toBe(1)
})

test('what is set up or marked just before the window is closed is kept', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, origin } = await openFresh()
  await bringFiles(page, [sampleClip('wren-hold.mp4')])
  await page.getByText('to the right').click()
  const setUpAt = new URL(page.url()).hash
  await page.close()
  const again = await page.context().newPage()
  await again.goto(`${origin}/${setUpAt}`)
  await again.getByRole('radio', { name: 'to the right', checked: true }).waitFor({ state: 'attached' })
  await setUp(again, 'Club aluminium', 'Juniper')
  await tabTo(again, /button "Entry end/)
  await again.keyboard.press('Enter')
  await again.keyboard.press('Shift+ArrowRight')
  const markAt = new URL(again.url()).hash
  await again.close()
  const last = await page.context().newPage()
  await last.goto(`${origin}/${markAt}`)
  await last.getByRole('button', { name: 'Entry end, at 482.00, 270.00' }).waitFor()
  expect(await last.getByRole('button', { name: 'Exit end, not placed' }).count()).toBe(1)
})

test('measuring is stopped half-way, and can be begun again', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await openFresh()
  await bringFiles(page, [sampleClip('wren-hold.mp4')])
  await setUp(page, 'Club aluminium', 'Juniper')
  await markByMouse(page, wrenMarks())
  await page.getByRole('button', { name: 'Measure' }).click()
  await page.getByRole('button', { name: 'Stop' }).click()
  await page.getByText('Stopped. The marks are kept.').waitFor()
  await page.getByRole('link', { name: 'Start', exact: true }).click()
  await page.getByText('Ready to be measured').waitFor()
  expect(await page.getByRole('progressbar').count()).toBe(0)
})

test('proposed marks are offered with their misfit, and taken over only when the handler says so', async (context) => {
  needs(context, 'a Chromium on the PATH')
  folder = await newLibraryFolder()
  const misfit = { px: 0.7, m: 0.0052 }
  opened = await openWindow(folder, [
    { marks: wrenMarks(), from: 'found in the picture', misfit, advice: 'Check both ends.' },
  ])
  const { page } = opened
  await bringFiles(page, [sampleClip('wren-hold.mp4')])
  await setUp(page, 'Club aluminium', 'Juniper')
  await page.getByText('Found in the picture, off by 0.7 px (0.5 cm)').waitFor()
  expect(await page.getByRole('button', { name: 'Pivot, not placed' }).count()).toBe(1)
  await page.getByRole('button', { name: 'Use these' }).click()
  await page.getByText('The marks fit the board.').waitFor()
  expect(await page.getByRole('button', { name: 'Pivot, at 466.90, 273.70' }).count()).toBe(1)
  await page.keyboard.press('Control+z')
  await page.getByRole('button', { name: 'Pivot, not placed' }).waitFor()
})
