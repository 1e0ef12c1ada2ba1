import { createWriteStream } from 'node:fs'
import { readFile, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { pathToFileURL } from 'node:url'
import type { Locator, Page } from 'playwright-core'
import { expect, onTestFinished, test } from 'vitest'
import yauzl from 'yauzl'
import { wrenHold } from '../analysis/ride/wren-hold.ts'
import { putWrenHold } from '../main/outputs/review/library-with-ride.ts'
import { needs } from '../report/needs.ts'
import { browserOfThisRun } from './browser-of-this-run.ts'
import { heardS, speak } from './heard.ts'
import { newLibraryFolder } from './made-libraries.ts'
import { openWindow, type OpenWindow } from './open-window.ts'

/** A program of its own, with a library of its own. */
async function program(): Promise<{ readonly window: OpenWindow; readonly folder: string; readonly rideId: string }> {
  const folder = await newLibraryFolder()
  const rideId = await putWrenHold(join(folder, 'library'))
  const window = await openWindow(folder)
  onTestFinished(async () => {
    await window.close()
    await rm(folder, { recursive: true, force: true })
  })
  return { window, folder, rideId }
}

/** As long as the test itself. */
const PATIENT = { timeout: 250_000 }

const momentOf = (handle: Locator) => async () => Number(await handle.getAttribute('aria-valuenow'))

async function openRide(page: Page, rideId: string): Promise<void> {
  await page.goto(`${new URL(page.url()).origin}/#/rides/${rideId}`)
  await page.getByRole('img', { name: /^Frame \d+ of the clip$/ }).waitFor()
}

async function saved(page: Page, press: () => Promise<void>, path: string): Promise<string> {
  const [download] = await Promise.all([page.waitForEvent('download'), press()])
  await download.saveAs(path)
  return path
}

async function openSent(page: Page, path: string): Promise<void> {
  await page.getByRole('link', { name: 'Coaching' }).click()
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open a pack or a reply' }).click(),
  ])
  await chooser.setFiles(path)
}

/** Draws an arrow over the picture and says something. */
async function commentWithArrow(page: Page, text: string): Promise<void> {
  await page.getByRole('textbox', { name: 'Comment' }).fill(text)
  await page.getByText('Arrow', { exact: true }).click()
  const box = (await page.locator('.drawing-layer').boundingBox())!
  await page.mouse.move(box.x + 0.3 * box.width, box.y + 0.3 * box.height)
  await page.mouse.down()
  await page.mouse.move(box.x + 0.5 * box.width, box.y + 0.5 * box.height, { steps: 4 })
  await page.mouse.up()
  await page.getByRole('button', { name: 'Add comment' }).click()
  await page.getByRole('list', { name: 'Comments' }).getByText(text).waitFor()
}

/** Waits until a picture of the film is painted; the sample clip is 960 px wide. */
async function pictureShown(page: Page): Promise<void> {
  await page.locator('.frame-picture canvas[width="960"]').first().waitFor()
}

async function suggestLandingHere(page: Page): Promise<number> {
  await page.getByRole('button', { name: 'Suggest another moment for' }).click()
  await page.getByRole('option', { name: 'Board landed' }).click()
  const here = page.getByRole('button', { name: /^It is here/ })
  const atS = Number(/[\d.]+/.exec(await here.innerText())![0])
  await here.click()
  return atS
}

async function unpacked(pack: string, name: string, to: string): Promise<string> {
  await new Promise<void>((resolve, reject) => {
    yauzl.open(pack, { lazyEntries: true }, (fault, zip) => {
      if (fault !== null) return reject(fault)
      zip.on('entry', (entry: yauzl.Entry) => {
        if (entry.fileName !== name) return zip.readEntry()
        zip.openReadStream(entry, (problem, stream) => {
          if (problem !== null) reject(problem)
          else void pipeline(stream, createWriteStream(to)).then(resolve, reject)
        })
      })
      zip.readEntry()
    })
  })
  return to
}

test('a ride goes to a coach with the program and to one with a browser alone, and both replies come back', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const handler = await program()
  const { page } = handler.window
  await openRide(page, handler.rideId)
  await page.getByRole('button', { name: 'Share' }).click()
  await page.getByRole('textbox', { name: 'Your name' }).fill('Ida Handler')
  await page.getByRole('button', { name: 'Make the pack' }).click()
  await page
    .getByRole('list', { name: 'What is in it' })
    .getByText(/Not in it: where, when/)
    .waitFor()
  const save = page.getByRole('button', { name: 'Save', exact: true })
  const pack = await saved(page, () => save.click(), join(handler.folder, 'pack.zip'))
  await page.getByRole('button', { name: 'Close' }).click()

  // The coach's own program.
  const coach = await program()
  await openSent(coach.window.page, pack)
  await coach.window.page.getByRole('img', { name: /^Frame \d+ of \d+$/ }).waitFor()
  await pictureShown(coach.window.page)
  await coach.window.page.getByRole('textbox', { name: 'Your name' }).fill('Cora Coach')
  await speak(coach.window.page.getByRole('region', { name: 'New comment' }))
  await commentWithArrow(coach.window.page, 'Drives well up to here')
  const atCoach = coach.window.page.getByRole('list', { name: 'Comments' })
  expect(await heardS(atCoach)).toBeGreaterThan(0.5)
  // What scrolls at the desk scrolls there: nothing unseen lengthens the page.
  expect(await coach.window.page.evaluate('document.documentElement.scrollHeight <= innerHeight')).toBe(true)
  await coach.window.page.keyboard.press('Escape')
  const atS = await suggestLandingHere(coach.window.page)
  const saveReply = coach.window.page.getByRole('button', { name: 'Save the reply' })
  const reply = await saved(coach.window.page, () => saveReply.click(), join(coach.folder, 'reply.json'))
  await coach.window.page.getByRole('link', { name: 'Coaching' }).click()
  await coach.window.page.getByRole('region', { name: 'Ida Handler' }).getByText('Wren holds to the ground').waitFor()
  expect(coach.window.problems()).toEqual([])

  // A browser, and nothing else.
  const html = await unpacked(pack, 'review.html', join(coach.folder, 'review.html'))
  // Phones name a film by the second it was taken.
  const ride = await unpacked(pack, 'ride.json', join(coach.folder, 'ride.json'))
  for (const part of [html, ride]) expect(await readFile(part, 'utf8')).not.toContain('wren-hold.mp4')
  const browser = await browserOfThisRun()
  const outside = await browser.newContext({ viewport: { width: 1280, height: 800 }, offline: true })
  onTestFinished(() => outside.close())
  const alone = await outside.newPage()
  alone.setDefaultTimeout(200_000)
  const faults: string[] = []
  alone.on('pageerror', ({ message }) => faults.push(message))
  alone.on('console', (message) => (message.type() === 'error' ? faults.push(message.text()) : undefined))
  await alone.goto(pathToFileURL(html).href)
  const frame = alone.getByRole('img', { name: /^Frame \d+ of \d+$/ })
  await frame.waitFor({ timeout: 0 })
  await pictureShown(alone)
  const before = await frame.getAttribute('aria-label')
  await alone.getByRole('button', { name: 'Next frame' }).click()
  await alone.locator(`.frame-picture:not([aria-label="${before}"])`).waitFor()
  await alone.getByRole('textbox', { name: 'Your name' }).fill('Bo Browser')
  await commentWithArrow(alone, 'Back feet <b>wide</b> here')
  const saveAlone = alone.getByRole('button', { name: 'Save the reply' })
  const second = await saved(alone, () => saveAlone.click(), join(coach.folder, 'second.json'))
  expect(faults).toEqual([])

  // Back at the handler: in any order, one of them twice.
  const comments = page.getByRole('list', { name: 'Comments' })
  for (const [file, says] of [
    [second, 'Back feet <b>wide</b> here'],
    [reply, 'Drives well up to here'],
  ] as const) {
    await openSent(page, file)
    await page.waitForURL(/#\/rides\//)
    await comments.getByText(says).waitFor()
  }
  await openSent(page, second)
  await page.getByText('Everything in this reply is there already.').waitFor()
  await openRide(page, handler.rideId)
  await comments.getByText('Drives well up to here').waitFor()
  await comments.getByText('Back feet <b>wide</b> here').waitFor()
  await page.locator('.drawing-layer .stroke').first().waitFor()
  expect(await heardS(comments)).toBeGreaterThan(0.5)
  await comments.getByRole('button', { name: 'Accept' }).click()
  await comments.getByText('Accepted').waitFor()
  const landed = page.getByRole('slider', { name: 'Board landed' })
  await expect.poll(momentOf(landed), PATIENT).toBeCloseTo(atS, 2)
  await page.getByRole('button', { name: 'Undo', exact: true }).click()
  const { grounded } = wrenHold.measured.events
  const measuredS = grounded.kind === 'measured' ? grounded.value : NaN
  await expect.poll(momentOf(landed), PATIENT).toBeCloseTo(measuredS, 2)

  // The ride beside itself: in step, and no difference.
  await page.goto(`${handler.window.origin}/#/side-by-side?a=${handler.rideId}&b=${handler.rideId}`)
  await page.getByRole('img', { name: 'Both rides through time' }).waitFor()
  await page.getByText('Lay the second over the first').click()
  await page.locator('.pair-over').waitFor()

  await page.getByRole('link', { name: 'Rides' }).click()
  await page.getByRole('searchbox').fill('drives well')
  await page.getByText('1 ride', { exact: true }).waitFor()
  expect(handler.window.problems()).toEqual([])
})
