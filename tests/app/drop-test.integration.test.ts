import { expect, test } from 'vitest'
import type { MarksProposal } from '../../main/contract/clips.ts'
import { needs } from '../report/needs.ts'
import { sampleMarks } from '../renderer/marking/sample-marks.ts'
import { bringFiles } from './journey.ts'
import { sampleClip } from './made-libraries.ts'
import { freshWindow } from './open-window.ts'
import { accessFaults, contrastFaults, saveScreen } from './screens.ts'

const offered = (name: string): MarksProposal => ({
  marks: sampleMarks(name),
  source: 'found',
  from: 'found in the picture',
  misfit: { px: 0.7, m: 0.0052 },
  advice: 'Check both ends.',
})

test('from the clip of a drop test, taken for a ride at first, to what to do about the board', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, problems } = await freshWindow([offered('drop-1kg')])
  await bringFiles(page, [sampleClip('drop-1kg.mp4')])
  await page.getByText('a drop test', { exact: true }).click()
  await page.getByRole('button', { name: 'New board' }).click()
  await page.getByRole('textbox', { name: 'Name' }).fill('Club aluminium')
  await page.getByRole('button', { name: 'Save', exact: true }).click()
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  expect(await page.getByRole('textbox', { name: 'Weight' }).inputValue()).toBe('1')
  await saveScreen(page, 'drop-test-set-up')
  await page.getByText('a dog', { exact: true }).click()
  await page.getByText('to the right', { exact: true }).click()
  await page.getByRole('button', { name: 'Mark the plank' }).click()
  await page.getByText('Good fit.').waitFor()
  await page.getByRole('button', { name: 'Measure', exact: true }).click()
  await page.getByText('this looks like a drop test').waitFor()
  await saveScreen(page, 'looks-like-drop-test')
  await page.getByRole('button', { name: 'Measure as a drop test' }).click()
  await page.waitForURL(/#\/boards\//)

  // By the clip's own truth it takes 2.74 s from placing to the landing; the UK's rule asks for 2 to 3 s.
  await page.getByText(/Under 1.00 kg the board lands 2\.7\d s/).waitFor()
  const rules = page.getByRole('row', { name: /^UK, since 2021/ })
  expect(await rules.innerText()).toMatch(/within the window/)
  await page.getByText('Nothing: leave it as it is.').waitFor()
  await page.getByRole('heading', { name: 'One drop test' }).waitFor()
  expect(await page.getByRole('link', { name: 'drop-1kg.mp4' }).getAttribute('href')).toMatch(/set-up$/)
  await saveScreen(page, 'board-one-drop')
  const zone = page.getByRole('row', { name: /^Contact zone/ })
  await zone.scrollIntoViewIfNeeded()
  // By the clip's own truth 0.91 m, which clicks tell to some 2 cm.
  expect(await zone.innerText()).toMatch(/0\.(89|90|91|92)\d m ± 0\.0[12]\d/)
  await saveScreen(page, 'board-sizes')
  expect(await accessFaults(page)).toEqual([])
  await page.emulateMedia({ colorScheme: 'dark' })
  expect(await contrastFaults(page)).toEqual([])
  await page.getByRole('button', { name: 'Save as' }).click()
  const [saved] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('menuitem', { name: 'PDF, to print' }).click(),
  ])
  expect(saved.suggestedFilename()).toBe('board-check-uk.pdf')
  expect(problems()).toEqual([])
})
