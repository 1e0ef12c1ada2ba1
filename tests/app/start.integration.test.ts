import { copyFile, readFile, rename, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { needs } from '../report/needs.ts'
import { bringFiles } from './journey.ts'
import { libraryWithClip, sampleClip } from './made-libraries.ts'
import { freshWindow } from './open-window.ts'

test('cautions are put away for good; clips come in by choice and by a drop, without a damaged one and one that is stopped; a sample opens by one press', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page: first, folder, again } = await freshWindow()
  const kept = first.waitForResponse(/\/call\/settings\.keep$/)
  await first.getByRole('button', { name: 'OK' }).click()
  await kept
  await first.getByText('Before you film').waitFor({ state: 'detached' })
  const { page } = await again()
  await page.getByText('Drop a clip of a ride here').waitFor()
  await page.getByText('Wren holds to the ground').waitFor()
  expect(await page.getByText('Before you film').count()).toBe(0)

  // A damaged file is refused in one sentence that names it, and the others come in.
  const damaged = join(folder, 'damaged.mp4')
  await writeFile(damaged, (await readFile(sampleClip('wren-hold.mp4'))).subarray(30_000))
  await bringFiles(page, [damaged, sampleClip('wren-hold.mp4')])
  expect(await page.getByRole('alert').innerText()).toMatch(/damaged\.mp4 .*video/)
  await page.getByRole('link', { name: 'Set up' }).waitFor()
  await page.getByRole('button', { name: 'Close' }).click()
  expect(await page.getByRole('alert').count()).toBe(0)

  // A clip may be dropped anywhere on the first screen.
  const { x, y } = (await page.getByRole('heading', { name: 'Sample rides' }).boundingBox())!
  const data = { items: [], files: [sampleClip('juno-missed-contact.mp4')], dragOperationsMask: 1 }
  const browser = await page.context().newCDPSession(page)
  for (const type of ['dragEnter', 'dragOver', 'drop'] as const) {
    await browser.send('Input.dispatchDragEvent', { type, x, y, data })
  }
  await page.getByRole('heading', { name: 'Set-up' }).waitFor()
  expect(await page.getByText('juno-missed-contact.mp4, 960 × 540').count()).toBe(1)
  await page.getByRole('link', { name: 'Start', exact: true }).click()

  // A file on its way in can be stopped, and the next one comes in.
  const held = join(folder, 'held.mp4')
  await copyFile(sampleClip('drop-1kg.mp4'), held)
  let uploads = 0
  await page.route('**/files', async (route) => {
    if (++uploads > 1) await route.continue()
  })
  await bringFiles(page, [held, sampleClip('pilot-early-leap.mp4')])
  await page.getByRole('button', { name: 'Stop copying held.mp4' }).click()
  await page.getByText('Copying held.mp4').waitFor({ state: 'detached' })
  await page.getByText('pilot-early-leap.mp4', { exact: false }).first().waitFor()
  await page.getByRole('link', { name: 'Start', exact: true }).click()
  await page.getByText('pilot-early-leap.mp4').waitFor()
  expect(await page.getByText('held.mp4').count()).toBe(0)
  expect(await page.getByRole('alert').count()).toBe(0)

  await page.getByRole('button', { name: 'Open Wren holds to the ground' }).click()
  await page.waitForURL(/#\/rides\//)
  await page.getByRole('link', { name: 'Start', exact: true }).click()
  const sample = page.getByRole('link', { name: 'Open Wren holds to the ground' })
  await sample.waitFor()
  expect(await sample.getAttribute('href')).toMatch(/#\/rides\//)
})

test('a second clip of the same picture size is set up like the first; a moved one is found again, and no other passes for it', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const library = await libraryWithClip('wren-hold.mp4')
  const { page, origin, folder, takeInPath, inNewFolder } = await freshWindow([], library)
  await bringFiles(page, [sampleClip('juno-missed-contact.mp4')])
  await page.getByRole('heading', { name: 'Mark the plank' }).waitFor()
  await page.getByText('Juniper, Club aluminium, to the right').waitFor()
  expect(await page.getByText('juno-missed-contact.mp4').count()).toBeGreaterThan(0)

  const from = join(folder, 'ride.mp4')
  const to = join(folder, 'elsewhere', 'renamed.mp4')
  await copyFile(sampleClip('pilot-early-leap.mp4'), from)
  const clipId = await takeInPath(from)
  await rename(from, await inNewFolder(to))
  await page.goto(`${origin}/#/clips/${clipId}/set-up`)
  await page.getByText('ride.mp4 has moved').waitFor()

  async function show(path: string): Promise<void> {
    const button = page.getByRole('button', { name: 'Find ride.mp4' })
    const [chooser] = await Promise.all([page.waitForEvent('filechooser'), button.click()])
    await chooser.setFiles(path)
  }
  await show(sampleClip('drop-1kg.mp4'))
  await page.getByText(/This is not the same clip as ride.mp4/).waitFor()
  await show(to)
  await page.getByText('ride.mp4 has moved').waitFor({ state: 'detached' })
  await page.getByRole('img', { name: 'The clip at 0.00 s' }).waitFor()
  expect(await page.getByRole('alert').count()).toBe(0)
})
