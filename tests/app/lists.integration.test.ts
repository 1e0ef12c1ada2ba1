import { rm } from 'node:fs/promises'
import { afterEach, expect, test } from 'vitest'
import { needs } from '../report/needs.ts'
import { nameInFocus } from './journey.ts'
import { newLibraryFolder, openWindow, type OpenWindow } from './open-window.ts'

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

test('a board is entered in the chosen rule book, changed by Enter in a field, and removed after asking', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await openFresh()
  await page.getByRole('link', { name: 'Boards' }).click()
  await page.getByText('No boards yet.').waitFor()
  await page.getByRole('button', { name: 'New board' }).click()
  await page.getByRole('textbox', { name: 'Name' }).fill('Home-made')
  await page.getByRole('button', { name: /Start from a rule book/ }).click()
  await page.getByRole('option', { name: 'AKC' }).click()
  await page.getByText(/AKC agility regulations, as club pages quote them/).waitFor()
  await page.getByRole('textbox', { name: 'Zone (c)' }).fill('100')
  await page.keyboard.press('Enter')
  await page.getByText('365.8 cm long, 30.5 cm wide, 61 cm high, zones of 100 cm').waitFor()

  await page.getByRole('button', { name: 'Change Home-made' }).click()
  await page.getByRole('button', { name: 'More exact' }).click()
  await page.getByRole('textbox', { name: 'Material' }).fill('spruce')
  await page.getByRole('button', { name: 'Keep the board' }).click()
  await page.getByText('zones of 100 cm. spruce').waitFor()

  await page.getByRole('button', { name: 'Remove Home-made' }).click()
  await page.getByRole('button', { name: 'Leave it' }).click()
  expect(await page.getByText('Home-made').count()).toBe(1)
  await page.getByRole('button', { name: 'Remove Home-made' }).click()
  await page.getByRole('button', { name: 'Remove', exact: true }).click()
  await page.getByText('No boards yet.').waitFor()
})

test('a board without a name is not kept, and the dialog says what is missing', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await openFresh()
  await page.getByRole('link', { name: 'Boards' }).click()
  await page.getByRole('button', { name: 'New board' }).click()
  await page.getByRole('button', { name: 'Keep the board' }).click()
  const name = page.getByRole('textbox', { name: 'Name' })
  expect(await name.getAttribute('aria-invalid')).toBe('true')
  expect(await nameInFocus(page)).toContain('textbox "Name"')
})

test('a young dog brings the caution with it', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await openFresh()
  await page.getByRole('link', { name: 'Dogs' }).click()
  await page.getByRole('button', { name: 'New dog' }).click()
  await page.getByRole('textbox', { name: 'Name' }).fill('Moss')
  const lastYear = new Date().getFullYear()
  await page.getByLabel('Born in').fill(`${lastYear}-01`)
  await page.getByText(/still growing/).waitFor()
  await page.getByRole('button', { name: 'Keep the dog' }).click()
  expect(await page.getByText(/born January/).innerText()).toContain(String(lastYear))
})

test('rides are found by words and filters, and an empty answer says what to do', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await openFresh()
  await page.getByRole('button', { name: 'Open Wren holds to the ground' }).click()
  await page.waitForURL(/#\/rides\//)
  await page.getByRole('link', { name: 'Rides' }).click()
  await page.getByText('1 ride', { exact: true }).waitFor()
  const ride = page.getByRole('main').getByRole('link', { name: /Wren holds to the ground/ })
  expect(await ride.count()).toBe(1)
  await page.getByRole('searchbox', { name: 'Search' }).fill('meadow')
  await page.getByRole('button', { name: /Left the board/ }).click()
  await page.getByRole('option', { name: 'After the landing' }).click()
  await page.getByText('1 ride', { exact: true }).waitFor()
  await page.getByRole('searchbox', { name: 'Search' }).fill('nobody')
  await page.getByText('No ride fits.').waitFor()
  await page.getByRole('button', { name: 'Show all rides' }).click()
  await ride.waitFor()
})

test('the rides of a dog are one press away, and going back from a ride finds the list as it was', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await openFresh()
  await page.getByRole('button', { name: 'Open Wren holds to the ground' }).click()
  await page.waitForURL(/#\/rides\//)
  await page.getByRole('link', { name: 'Dogs' }).click()
  expect(await page.getByRole('link', { name: 'Rides of Wren' }).innerText()).toBe('1 ride')
  await page.getByRole('link', { name: 'Rides of Wren' }).click()
  await page.getByText('1 ride', { exact: true }).waitFor()
  expect(await page.getByRole('button', { name: /^Wren Dog/ }).count()).toBe(1)
  await page
    .getByRole('main')
    .getByRole('link', { name: /Wren holds to the ground/ })
    .click()
  await page.getByRole('region', { name: 'Results' }).waitFor()
  await page.goBack()
  await page.getByRole('button', { name: /^Wren Dog/ }).waitFor()
})

test('from a ride one comes back to its marks, and a removed ride is gone', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await openFresh()
  await page.getByRole('button', { name: 'Open Wren holds to the ground' }).click()
  await page.waitForURL(/#\/rides\//)
  const more = page.getByRole('button', { name: 'More for this ride' })
  await more.click()
  await page.getByRole('menuitem', { name: 'Marks, measure again' }).click()
  await page.getByRole('heading', { name: 'Mark the plank' }).waitFor()
  await page.goBack()
  await more.click()
  await page.getByRole('menuitem', { name: 'Remove this ride' }).click()
  await page.getByRole('button', { name: 'Remove', exact: true }).click()
  await page.getByText('No rides yet.').waitFor()
  expect(page.url()).toMatch(/#\/rides$/)
})
