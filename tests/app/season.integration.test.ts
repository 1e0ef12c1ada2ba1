import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { needs } from '../report/needs.ts'
import { nameInFocus } from './journey.ts'
import { freshWindow } from './open-window.ts'
import { accessFaults } from './screens.ts'

/** Saves what a page says as all its numbers, and gives them. */
async function savedNumbers(page: Page, path: string): Promise<Record<string, unknown>> {
  await page.getByRole('button', { name: 'Save as' }).click()
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('menuitem', { name: 'All numbers (JSON)' }).click(),
  ])
  await download.saveAs(path)
  return JSON.parse(await readFile(path, 'utf8')) as Record<string, unknown>
}

test('from the invented season to a dog, a sentence, a ride and back, then to the show check and a saved report', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, problems, folder } = await freshWindow()
  await page.getByRole('button', { name: 'Open the invented season' }).click()
  await page.getByRole('heading', { name: 'The season, ride by ride' }).waitFor()
  await page.getByRole('link', { name: 'Dogs', exact: true }).click()
  await page.getByRole('link', { name: 'Kestrel', exact: true }).click()
  await page.getByText(/^Kestrel leaves by its own clock/).waitFor()
  expect(await accessFaults(page)).toEqual([])

  // A sentence leads to its figure and to the rides behind it, and the keys from one of them to the next.
  await page.getByRole('button', { name: /^Show the rides behind: Kestrel left early/ }).click()
  const portrait = page.getByRole('group', { name: 'Every ride of the season, in order of its day' })
  const early = await portrait.locator('a:not(.season-aside)').count()
  expect(
    await page
      .getByRole('listitem')
      .filter({ hasText: /^Kestrel left early/ })
      .innerText(),
  ).toContain(`on ${early} of`)
  const before = await nameInFocus(page)
  await page.keyboard.press('ArrowRight')
  const ride = await nameInFocus(page)
  expect(ride).not.toBe(before)
  await page.keyboard.press('Enter')
  await page.waitForURL(/#\/noted\//)
  await page.getByText(/^Invented, to try the program on/).waitFor()
  await page.getByRole('rowheader', { name: 'Leaving, from the landing' }).waitFor()
  await page.goBack()
  await page.getByText(/^Kestrel leaves by its own clock/).waitFor()

  // Rides by hand are marked, and stay out of the numbers.
  const rates = page.getByRole('region', { name: 'Groups of rides' })
  const counted = await rates.getByText('20 filmed rides').count()
  await page.getByRole('button', { name: 'Ride by hand' }).click()
  await page.getByRole('textbox', { name: 'Day' }).fill('2026-09-20')
  await page.getByText('Yes', { exact: true }).click()
  await page.getByRole('button', { name: 'Save', exact: true }).click()
  await page.getByText('1 of 21 rides were entered by hand; they are in none of the measured numbers.').waitFor()
  expect(await rates.getByText('20 filmed rides').count()).toBe(counted)

  await page.getByRole('link', { name: 'Show check' }).click()
  await page.getByRole('button', { name: /Board at the show/ }).click()
  await page.getByRole('option', { name: 'Old slow board' }).click()
  const answer = page.getByRole('region', { name: 'Answer' })
  await answer.getByText(/on Old slow board about \d+\s% of the time \(between/).waitFor()
  await answer.getByText(/This rests on 20 filmed rides/).waitFor()
  const chance = Number(/about (\d+)/.exec(await answer.innerText())![1])
  expect(await accessFaults(page)).toEqual([])
  const showCheck = await savedNumbers(page, join(folder, 'show.json'))
  expect(showCheck).toMatchObject({ schema: 'tiphold.showcheck/1', board: 'Old slow board', restsOn: { rides: 20 } })
  expect(Math.round(100 * (showCheck['earlyChance'] as { value: number }).value)).toBe(chance)
  await page.getByRole('link', { name: 'Back to Kestrel' }).click()
  await page.getByText(/^Kestrel leaves by its own clock/).waitFor()

  const saved = await savedNumbers(page, join(folder, 'kestrel.json'))
  expect(saved).toMatchObject({ schema: 'tiphold.dog/1', rides: 21 })

  // Beside another dog, and the difference that is shown is the one that is saved.
  await page.getByRole('link', { name: 'Compare' }).click()
  await page.getByRole('group', { name: 'Other side' }).getByRole('button', { name: /Dog/ }).click()
  await page.getByRole('option', { name: 'Biscuit' }).click()
  const rowOfEarly = page.getByRole('row').filter({ has: page.getByRole('rowheader', { name: 'left early' }) })
  await page.getByRole('columnheader', { name: /^Difference/ }).waitFor()
  await expect.poll(() => rowOfEarly.getByRole('cell').last().innerText()).toMatch(/\d/)
  expect(await accessFaults(page)).toEqual([])
  const compared = await savedNumbers(page, join(folder, 'compare.json'))
  expect(compared).toMatchObject({ schema: 'tiphold.compare/1', sides: [{ name: 'Kestrel' }, { name: 'Biscuit' }] })

  await page.getByRole('link', { name: 'Dogs', exact: true }).click()
  await page.getByRole('link', { name: 'Who needs attention' }).click()
  await page.getByRole('listitem').filter({ hasText: 'Kestrel' }).waitFor()
  expect(await accessFaults(page)).toEqual([])
  expect(problems()).toEqual([])
})
