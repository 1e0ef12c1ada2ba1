import { copyFile, readFile, rename, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { needs } from '../report/needs.ts'
import { bringFiles } from './journey.ts'
import { libraryWithClip, sampleClip } from './made-libraries.ts'
import { freshWindow } from './open-window.ts'

test('the first cautions are put away once and for all', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, again } = await freshWindow()
  const kept = page.waitForResponse(/\/call\/settings\.keep$/)
  await page.getByRole('button', { name: 'OK' }).click()
  await kept
  await page.getByText('Before you film').waitFor({ state: 'detached' })
  const opened = await again()
  await opened.page.getByText('Drop a clip of a ride here').waitFor()
  await opened.page.getByText('Wren holds to the ground').waitFor()
  expect(await opened.page.getByText('Before you film').count()).toBe(0)
})

test('a damaged file is refused in one sentence that names it, and the others come in', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, folder } = await freshWindow()
  const damaged = join(folder, 'damaged.mp4')
  await writeFile(damaged, (await readFile(sampleClip('wren-hold.mp4'))).subarray(30_000))
  await bringFiles(page, [damaged, sampleClip('wren-hold.mp4')])
  expect(await page.getByRole('alert').innerText()).toMatch(/damaged\.mp4 .*video/)
  await page.getByRole('link', { name: 'Set up' }).waitFor()
  await page.getByRole('button', { name: 'Close' }).click()
  expect(await page.getByRole('alert').count()).toBe(0)
})

test('a clip may be dropped anywhere on the first screen', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await freshWindow()
  const { x, y } = (await page.getByRole('heading', { name: 'Sample rides' }).boundingBox())!
  const data = { items: [], files: [sampleClip('wren-hold.mp4')], dragOperationsMask: 1 }
  const browser = await page.context().newCDPSession(page)
  for (const type of ['dragEnter', 'dragOver', 'drop'] as const) {
    await browser.send('Input.dispatchDragEvent', { type, x, y, data })
  }
  await page.getByRole('heading', { name: 'Set-up' }).waitFor()
  expect(await page.getByText('wren-hold.mp4, 960 × 540').count()).toBe(1)
})

test('a file on its way in can be stopped, and the next one comes in', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, folder } = await freshWindow()
  const [held, released] = [join(folder, 'held.mp4'), sampleClip('wren-hold.mp4')]
  await copyFile(sampleClip('drop-1kg.mp4'), held)
  // The first file is held on its way.
  let uploads = 0
  await page.route('**/files', async (route) => {
    if (++uploads > 1) await route.continue()
  })
  await bringFiles(page, [held, released])
  await page.getByRole('button', { name: 'Stop copying held.mp4' }).click()
  await page.getByText('Copying held.mp4').waitFor({ state: 'detached' })
  await page
    .getByRole('heading', { name: 'Set-up' })
    .or(page.getByRole('link', { name: 'Set up' }))
    .waitFor()
  await page.getByRole('link', { name: 'Start', exact: true }).click()
  await page.getByText('wren-hold.mp4').waitFor()
  expect(await page.getByText('held.mp4').count()).toBe(0)
  expect(await page.getByRole('alert').count()).toBe(0)
})

test('a second clip of the same picture size is set up like the first, and goes on to marking', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await freshWindow([], await libraryWithClip('wren-hold.mp4'))
  await bringFiles(page, [sampleClip('juno-missed-contact.mp4')])
  await page.getByRole('heading', { name: 'Mark the plank' }).waitFor()
  await page.getByText('Juniper, Club aluminium, to the right').waitFor()
  expect(await page.getByText('juno-missed-contact.mp4').count()).toBeGreaterThan(0)
})

test('a sample ride opens by one press', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page } = await freshWindow()
  await page.getByRole('button', { name: 'Open Wren holds to the ground' }).click()
  await page.waitForURL(/#\/rides\//)
  await page.getByRole('link', { name: 'Start', exact: true }).click()
  const again = page.getByRole('link', { name: 'Open Wren holds to the ground' })
  await again.waitFor()
  expect(await again.getAttribute('href')).toMatch(/#\/rides\//)
})

test('a moved clip is found again by showing where it lies, and no other clip passes for it', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const { page, origin, folder, takeInPath, inNewFolder } = await freshWindow()
  const from = join(folder, 'ride.mp4')
  const to = join(folder, 'elsewhere', 'renamed.mp4')
  await copyFile(sampleClip('wren-hold.mp4'), from)
  const clipId = await takeInPath(from)
  await rename(from, await inNewFolder(to))
  await page.goto(`${origin}/#/clips/${clipId}/set-up`)
  await page.getByText('ride.mp4 has moved').waitFor()

  async function show(path: string): Promise<void> {
    const button = page.getByRole('button', { name: 'Find ride.mp4' })
    const [chooser] = await Promise.all([page.waitForEvent('filechooser'), button.click()])
    await chooser.setFiles(path)
  }
  await show(sampleClip('pilot-early-leap.mp4'))
  await page.getByText(/This is not the same clip as ride.mp4/).waitFor()
  await show(to)
  await page.getByText('ride.mp4 has moved').waitFor({ state: 'detached' })
  await page.getByRole('img', { name: 'The clip at 0.00 s' }).waitFor()
  expect(await page.getByRole('alert').count()).toBe(0)
})
