import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { LEAST_WINDOW } from '../../main/contract/window-size.ts'
import { needs } from '../report/needs.ts'
import { libraryWithClip } from './made-libraries.ts'
import { freshWindow, sharedWindow } from './open-window.ts'
import { accessFaults, contrastFaults } from './screens.ts'

test('theme, text size, units and a moved library hold at once and after a restart', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, origin, folder, again: startAgain } = await freshWindow()
  const fontPx = () => page.evaluate<number>('parseFloat(getComputedStyle(document.documentElement).fontSize)')
  const paper = () => page.evaluate<string>('getComputedStyle(document.body).backgroundColor')
  const before = { fontPx: await fontPx(), paper: await paper() }
  await page.getByRole('link', { name: 'Dogs' }).click()
  await page.getByRole('button', { name: 'New dog' }).click()
  await page.getByRole('textbox', { name: 'Name' }).fill('Juniper')
  await page.getByRole('button', { name: 'Save' }).click()
  await page.getByRole('button', { name: 'Edit Juniper' }).waitFor()
  await page.goto(`${origin}/#/settings`)
  await page.getByText('Dark', { exact: true }).click()
  await page.getByText('in, ft, lb').click()
  const kept = page.waitForResponse(
    (response) => response.url().endsWith('/call/settings.keep') && response.request().postData()!.includes('1.6'),
  )
  await page.getByRole('slider', { name: 'Text size' }).focus()
  await page.keyboard.press('End')
  await page.getByText('160 %').waitFor()
  await kept
  expect((await fontPx()) / before.fontPx).toBeCloseTo(1.6, 3)
  expect(await paper()).not.toBe(before.paper)

  // With all that is in it, and not into a folder that holds something else.
  await page.getByRole('button', { name: 'Move the library' }).click()
  await page.getByRole('textbox', { name: 'New folder' }).fill(folder)
  await page.getByRole('button', { name: 'Move', exact: true }).click()
  expect(await page.getByRole('alert').innerText()).toContain('empty')
  const target = join(folder, 'other')
  await page.getByRole('textbox', { name: 'New folder' }).fill(target)
  await page.getByRole('button', { name: 'Move', exact: true }).click()
  await page.getByText(target).waitFor()

  const { page: again, origin: newOrigin } = await startAgain()
  await again.getByRole('link', { name: 'Boards' }).click()
  await again.getByRole('button', { name: 'New board' }).click()
  expect(await again.getByRole('textbox', { name: 'Length (a)' }).inputValue()).toBe('144.09')
  expect(await again.evaluate('document.documentElement.dataset.theme')).toBe('dark')
  await again.getByRole('button', { name: 'Cancel' }).click()
  await again.getByRole('link', { name: 'Dogs' }).click()
  await again.getByRole('button', { name: 'Edit Juniper' }).waitFor()
  await again.goto(`${newOrigin}/#/settings`)
  await again.getByText(target).waitFor()
})

const windowWithClip = sharedWindow(() => libraryWithClip('wren-hold.mp4'))

/** The marking screen of the library's clip. */
async function goToMarking(page: Page): Promise<string> {
  await page.getByRole('link', { name: 'Mark' }).click()
  await page.getByRole('heading', { name: 'Mark the plank' }).waitFor()
  return page.url()
}

test('every screen is free of faults that axe finds, light and dark', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, origin } = await windowWithClip()
  await goToMarking(page)
  const faults: string[] = []
  async function look(where: string): Promise<void> {
    await page.emulateMedia({ colorScheme: 'light' })
    const inLight = await accessFaults(page)
    await page.emulateMedia({ colorScheme: 'dark' })
    faults.push(...[...inLight, ...(await contrastFaults(page))].map((fault) => `${where}: ${fault}`))
  }
  await page.getByRole('button', { name: 'Entry end, not placed' }).waitFor()
  await look('marking')
  await page.goto(page.url().replace('marking', 'set-up'))
  await page.getByRole('img', { name: 'The clip at 0.00 s' }).waitFor()
  await look('set-up')
  await page.goto(`${origin}/#/`)
  await page.getByText('Wren holds to the ground').waitFor()
  await look('start')
  for (const [path, heading] of [
    ['rides', 'Rides'],
    ['dogs', 'Dogs'],
    ['boards', 'Boards'],
    ['settings', 'Settings'],
  ] as const) {
    await page.goto(`${origin}/#/${path}`)
    await page.getByRole('heading', { name: heading, level: 1 }).waitFor()
    await look(path)
  }
  await page.getByRole('button', { name: 'Move the library' }).click()
  await look('a dialog')
  await page.emulateMedia({ colorScheme: null })
  await page.getByRole('button', { name: 'Cancel' }).click()
  expect(faults).toEqual([])
})

test('nothing is cut off sideways in the smallest window with the largest text', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, origin } = await windowWithClip()
  const marking = await goToMarking(page)
  // Where the program lies is not ours to choose.
  const where = `/opt/someone/${'a_folder_with_a_long_name_'.repeat(8)}/ffmpeg`
  await page.route('**/call/engines.report', async (route) => {
    const response = await route.fetch()
    const told = await response.text()
    expect(told).toContain('"why":"')
    await route.fulfill({ response, body: told.replaceAll('"why":"', `"why":"${where} `) })
  })
  await page.setViewportSize({ width: LEAST_WINDOW.widthPx, height: LEAST_WINDOW.heightPx })
  await page.goto(`${origin}/#/settings`)
  await page.getByRole('slider', { name: 'Text size' }).focus()
  await page.keyboard.press('End')
  await page.getByText('160 %').waitFor()
  const addresses = [marking, marking.replace('marking', 'set-up'), ...['', 'rides', 'dogs', 'boards', 'settings']]
  const cut: string[] = []
  for (const address of addresses) {
    await page.goto(address.startsWith('http') ? address : `${origin}/#/${address}`)
    await page.getByRole('heading', { level: 1 }).waitFor({ state: 'attached' })
    const excessPx = await page.evaluate<number>(`Math.max(0, ...[...document.querySelectorAll('main, main *')]
      .filter((element) => getComputedStyle(element).overflowX !== 'visible' && element.clientWidth > 1)
      .filter((element) => !element.closest('.viewer, .select-button, .strip, .choice-row'))
      .map((element) => element.scrollWidth - element.clientWidth))`)
    if (excessPx > 1) cut.push(`${address}: ${excessPx} px`)
  }
  expect(cut).toEqual([])
})
