import { expect, test } from 'vitest'
import { needs } from '../report/needs.ts'
import { wrenMarks } from '../renderer/marking/sample-marks.ts'
import { bringFiles, markByKeys, markByMouse, setUp, tabTo, windowPlace } from './journey.ts'
import { sampleClip } from './made-libraries.ts'
import { measuringWithoutEnd } from './measuring-once.ts'
import { freshWindow, windowOnMarking } from './open-window.ts'

test('a clip goes from the file chooser to a ride by mouse, and all is there again after a restart', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, again: startAgain } = await freshWindow()
  await bringFiles(page, [sampleClip('wren-hold.mp4')])
  await setUp(page, 'Club aluminium', 'Juniper')
  await markByMouse(page, wrenMarks())
  await page.getByText('Good fit.').waitFor()
  await page.getByRole('button', { name: 'Measure' }).click()
  await page.waitForURL(/#\/rides\//)

  const { page: again } = await startAgain()
  // The dog left 1.04 s after the landing (the clip's own truth): the line of a list tells it.
  const card = again.getByRole('link', { name: /Juniper/ })
  await card.waitFor()
  expect(await card.innerText()).toMatch(/Club aluminium[^]*Left 1\.0\d s after the landing/)
  await again.getByRole('link', { name: 'Dogs' }).click()
  await again.getByText('Juniper').waitFor()
  await again.getByRole('link', { name: 'Boards' }).click()
  expect(await again.getByText('366 cm long').innerText()).toContain('zones of 91.4 cm')
})

test('a clip goes from the file chooser into measuring by keys alone', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, problems } = await freshWindow([], undefined, measuringWithoutEnd)
  // Waited for before the way there: a key is faster than the browser is told to hand its chooser over.
  const choosing = page.waitForEvent('filechooser')
  await tabTo(page, /button "Choose a file"/)
  await page.keyboard.press('Enter')
  const chooser = await choosing
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
  await tabTo(page, /button "Mark the plank"/)
  await page.keyboard.press('Enter')
  await page.getByRole('heading', { name: 'Mark the plank' }).waitFor()
  await markByKeys(page, wrenMarks())
  await page.getByText('Good fit.').waitFor()
  await tabTo(page, /button "Measure"/)
  await page.keyboard.press('Enter')
  await page.getByRole('button', { name: 'Stop' }).waitFor()
  expect(problems()).toEqual([])
})

test('a wrong click is shown at once and taken back by Ctrl+Z; measuring is stopped, and can be begun again', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await windowOnMarking([], measuringWithoutEnd)
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
  await page.getByText('Good fit.').waitFor()
  expect(await page.getByRole('button', { name: 'Measure' }).isDisabled()).toBe(false)

  await page.getByRole('button', { name: 'Measure' }).click()
  await page.getByRole('button', { name: 'Stop' }).click()
  await page.getByText('Stopped. The marks are saved.').waitFor()
  await page.getByRole('link', { name: 'Start', exact: true }).click()
  await page.getByText('Ready to measure').waitFor()
  expect(await page.getByRole('progressbar').count()).toBe(0)
})

test('marks are kept without being told to, half-way too, and so is what was set up or marked just before closing', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, origin } = await windowOnMarking()
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

  const markAt = new URL(page.url()).hash
  const setUpAt = markAt.replace('marking', 'set-up')
  await page.goto(`${origin}/${setUpAt}`)
  await page.getByText('to the left', { exact: true }).click()
  await page.close()
  const again = await page.context().newPage()
  await again.goto(`${origin}/${setUpAt}`)
  await again.getByRole('radio', { name: 'to the left', checked: true }).waitFor({ state: 'attached' })
  await again.goto(`${origin}/${markAt}`)
  await tabTo(again, /button "Entry end/)
  await again.keyboard.press('Shift+ArrowRight')
  await again.close()
  const last = await page.context().newPage()
  await last.goto(`${origin}/${markAt}`)
  await last.getByRole('button', { name: 'Entry end, at 484.00, 270.00' }).waitFor()
  expect(await last.getByRole('button', { name: 'Exit end, not placed' }).count()).toBe(1)
})

test("found marks are drawn at once with their misfit, and become the handler's own by moving a point", async (context) => {
  needs(context, 'a Chromium on the PATH')
  const misfit = { px: 0.7, m: 0.0052 }
  const { page } = await windowOnMarking([
    { marks: wrenMarks(), source: 'found', from: 'found in the picture', misfit, advice: 'Check both ends.' },
  ])
  await page.getByText('Found in the picture, off by 0.7 px (0.5 cm)').waitFor()
  await page.getByText('Good fit.').waitFor()
  await page.getByRole('button', { name: 'Mark by hand' }).click()
  await page.getByRole('button', { name: 'Pivot, not placed' }).waitFor()
  await page.reload()
  await page.getByRole('button', { name: 'Pivot, at 466.90, 273.70' }).focus()
  await page.keyboard.press('ArrowRight')
  await page.getByRole('button', { name: 'Pivot, at 467.15, 273.70' }).waitFor()
  expect(await page.getByRole('region', { name: 'Found marks' }).count()).toBe(0)
  await page.keyboard.press('Control+z')
  await page.getByRole('region', { name: 'Found marks' }).waitFor()
})
