import { appendFile, copyFile, mkdir, readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import type { MarksProposal } from '../../main/contract/clips.ts'
import { needs } from '../report/needs.ts'
import { wrenMarks } from '../renderer/marking/sample-marks.ts'
import type { StartWorkerProcess } from '../../main/services/worker-process.ts'
import { bringFiles } from './journey.ts'
import { libraryWithClip, sampleClip } from './made-libraries.ts'
import { measuringWithoutEnd } from './measuring-once.ts'
import { type FreshWindow, freshWindow } from './open-window.ts'

const found: MarksProposal = {
  marks: wrenMarks(),
  source: 'carried',
  from: 'as in juno-missed-contact.mp4, the same tripod place',
  misfit: { px: 0.7, m: 0.0052 },
  advice: 'Look at both ends.',
}

/** Counts presses of mouse and keys from now on, on every screen. */
async function countPresses(page: Page): Promise<() => Promise<number>> {
  await page.evaluate(`
    window.presses = 0
    for (const kind of ['pointerdown', 'keydown']) window.addEventListener(kind, () => window.presses++, true)
  `)
  return () => page.evaluate<number>('window.presses')
}

/** A window on a library with a clip before the one of the test: dog, board and direction are known from then on. */
async function windowAtKnownPlace(processes?: StartWorkerProcess): Promise<FreshWindow> {
  return freshWindow([found], await libraryWithClip('juno-missed-contact.mp4'), processes)
}

/** The same film in files of different content: an empty box at the end, as the format allows. */
async function takesOf(name: string, count: number, folder: string): Promise<string[]> {
  await mkdir(folder, { recursive: true })
  const paths = Array.from({ length: count }, (_, take) => join(folder, `take-${take + 1}.mp4`))
  for (const [take, path] of paths.entries()) {
    await copyFile(sampleClip(name), path)
    await appendFile(path, Buffer.from([0, 0, 0, 9, ...Buffer.from('free'), take]))
  }
  return paths
}

test('a clip of a known dog, board and place is measured by at most three presses', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, problems } = await windowAtKnownPlace()
  const presses = await countPresses(page)
  await bringFiles(page, [sampleClip('wren-hold.mp4')])
  await page.getByRole('region', { name: 'Found marks' }).waitFor()
  // Drawn at once, both ends under a glass in both moments, and whose ride it will be stands above.
  expect(await page.locator('.end-glasses figure').count()).toBe(4)
  await page.getByRole('button', { name: 'Pivot, at 466.90, 273.70' }).waitFor()
  await page.getByText('Juniper, Club aluminium, to the right').waitFor()
  await page.getByText('Good fit.').waitFor()
  await page.getByRole('button', { name: 'Measure' }).click()
  await page.waitForURL(/#\/rides\//)
  expect(await presses()).toBeLessThanOrEqual(3)
  expect(problems()).toEqual([])
})

test('six clips are set up together, and each is measured behind by one press', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, folder } = await windowAtKnownPlace(measuringWithoutEnd)
  const clips = await takesOf('wren-hold.mp4', 6, join(folder, 'phone'))
  const presses = await countPresses(page)
  await bringFiles(page, clips)
  await page.getByRole('heading', { name: 'Set up 6 clips together' }).waitFor()
  await page.getByRole('button', { name: 'Use for all 6' }).click()
  for (let clip = 1; clip <= 6; clip++) {
    await page.getByText(`take-${clip}.mp4, Juniper`).waitFor()
    await page.getByText('Good fit.').waitFor()
    await page.getByRole('button', { name: 'Measure' }).click()
  }
  // After the last one the start screen shows what is measured behind.
  await page.getByRole('region', { name: 'Being measured' }).waitFor()
  expect(await presses()).toBe(8)
})

test('where measuring on arrival is chosen, a clip that comes into the watched folder is measured without a press', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, folder } = await windowAtKnownPlace()
  const phone = join(folder, 'phone')
  await mkdir(phone)
  await page.getByRole('link', { name: 'Settings' }).click()
  await page.getByText('Measure on arrival').click()
  await page.getByRole('textbox', { name: 'Folder in which new clips arrive' }).fill(join(folder, 'nowhere'))
  await page.getByRole('button', { name: 'Watch this folder' }).click()
  await page.getByText(/There is no folder/).waitFor()
  await page.getByRole('textbox', { name: 'Folder in which new clips arrive' }).fill(phone)
  await page.getByRole('button', { name: 'Watch this folder' }).click()
  await page.getByRole('button', { name: 'Stop watching' }).waitFor()
  await page.getByRole('link', { name: 'Start', exact: true }).click()
  const presses = await countPresses(page)
  await copyFile(sampleClip('wren-hold.mp4'), join(phone, 'wren-hold.mp4'))
  await page.getByRole('link', { name: /Juniper/ }).waitFor()
  expect(await presses()).toBe(0)
  expect(await readdir(phone)).toEqual(['wren-hold.mp4'])
  expect((await readFile(join(phone, 'wren-hold.mp4'))).equals(await readFile(sampleClip('wren-hold.mp4')))).toBe(true)
})

test('what was removed comes back by Undo, and by Ctrl+Z; a direction that the marks contradict is said before measuring, and turned by a button', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await windowAtKnownPlace()
  await page.getByRole('link', { name: 'Dogs' }).click()
  for (const undo of [
    () => page.getByRole('button', { name: 'Undo', exact: true }).click(),
    () => page.keyboard.press('Control+z'),
  ]) {
    await page.getByRole('button', { name: 'Remove Juniper' }).click()
    await page.getByRole('button', { name: 'Remove', exact: true }).click()
    await page.getByText('Juniper was removed.').waitFor()
    await page.getByText('No dogs yet.').waitFor()
    await undo()
    await page.getByRole('button', { name: 'Edit Juniper' }).waitFor()
    expect(await page.getByText('No dogs yet.').count()).toBe(0)
  }

  await page.getByRole('link', { name: 'Start', exact: true }).click()
  await bringFiles(page, [sampleClip('wren-hold.mp4')])
  await page.getByRole('link', { name: 'Change' }).click()
  await page.getByText('to the left', { exact: true }).click()
  await page.getByRole('button', { name: 'Mark the plank' }).click()
  await page.getByText(/The set-up says that the dog crosses to the left/).waitFor()
  expect(await page.getByRole('button', { name: 'Measure' }).isDisabled()).toBe(true)
  await page.getByRole('button', { name: 'The dog crosses to the right' }).click()
  await page.getByText(/The set-up says/).waitFor({ state: 'detached' })
  await expect.poll(() => page.getByRole('button', { name: 'Measure' }).isDisabled()).toBe(false)
})
