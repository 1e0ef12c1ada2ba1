import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Page } from 'playwright-core'
import { expect, onTestFinished, test } from 'vitest'
import type { ReviewComment } from '../../analysis/review/review-item.ts'
import { WINDOW_FOLDER } from '../../main/hosts/build/build-window.ts'
import { reviewPage, type ReviewPageData } from '../../main/outputs/review/review-page.ts'
import { replyIn } from '../../main/outputs/review/review-file.ts'
import { wrenHold } from '../analysis/ride/wren-hold.ts'
import { testFolder } from '../main/library/things.ts'
import { needs } from '../report/needs.ts'
import { browserOfThisRun } from './browser-of-this-run.ts'
import { heardS, speak } from './heard.ts'

/** A pack's page on the sample ride, with a few pictures of one colour. */
async function pageFile(jpeg: string): Promise<string> {
  const { ptsS } = wrenHold.measured.frames
  const madeAt = '2026-11-28T10:00:00.000Z'
  const data: ReviewPageData = {
    detail: {
      card: {
        ...{ id: 'pack-1', openedAt: madeAt, madeAt, student: 'Ida', handlerName: 'Ida', questions: 0, comments: 0 },
        ...{ dogName: 'Wren', title: 'second run' },
      },
      packId: '6f9619ff-8b86-4d01-b42d-00cf4fc964ff',
      rideId: 'ride-1',
      handlerId: 'a'.repeat(16),
      ride: wrenHold.measured,
      film: { ptsS, picture: wrenHold.picture, widthPx: 960, heightPx: 540 },
      items: [],
    },
    frames: [0, 1, 2].map((k) => ({ frame: Math.floor((k * (ptsS.length - 1)) / 2), jpeg })),
  }
  const path = join(await testFolder(), 'review.html')
  await writeFile(path, await reviewPage(WINDOW_FOLDER, data))
  return path
}

function greenJpeg(page: Page): Promise<string> {
  return page.evaluate(`(() => {
    const canvas = Object.assign(document.createElement('canvas'), { width: 960, height: 540 })
    const context = canvas.getContext('2d')
    context.fillStyle = '#3d6b4f'
    context.fillRect(0, 0, 960, 540)
    return canvas.toDataURL('image/jpeg').split(',')[1]
  })()`)
}

/** The smallest of the browsers cannot refuse: what others then answer is put in its place. */
const REFUSED = `navigator.mediaDevices.getUserMedia = () =>
  Promise.reject(new DOMException('Permission denied', 'NotAllowedError'))`
const ALLOWED = 'delete navigator.mediaDevices.getUserMedia'

test('a coach without a microphone loses nothing typed; with one she speaks a comment, hears it and sends it', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const browser = await browserOfThisRun()
  const coach = await browser.newContext({ viewport: { width: 1280, height: 800 }, offline: true })
  onTestFinished(() => coach.close())
  const page = await coach.newPage()
  const faults: string[] = []
  page.on('pageerror', ({ message }) => faults.push(message))
  page.on('console', (message) => (message.type() === 'error' ? faults.push(message.text()) : undefined))
  await page.goto(pathToFileURL(await pageFile(await greenJpeg(page))).href)
  const name = page.getByRole('textbox', { name: 'Your name' })
  const text = page.getByRole('textbox', { name: 'Comment' })
  const record = page.getByRole('button', { name: 'Record' })
  await name.fill('Cora')

  await page.evaluate(REFUSED)
  await text.fill('Hold here')
  await record.click()
  await page.getByRole('alert').getByText('The microphone is not allowed here').waitFor()
  expect(await text.inputValue()).toBe('Hold here')

  await page.evaluate(ALLOWED)
  const compose = page.getByRole('region', { name: 'New comment' })
  await speak(compose)
  await page.getByRole('button', { name: 'Delete the recording' }).click()
  expect(await text.inputValue()).toBe('Hold here')
  await speak(compose)
  await page.getByRole('button', { name: 'Add comment' }).click()

  const comments = page.getByRole('list', { name: 'Comments' })
  await comments.getByText('Hold here').waitFor()
  expect(await heardS(comments)).toBeGreaterThan(0.5)
  const save = page.getByRole('button', { name: 'Save the reply' })
  const [download] = await Promise.all([page.waitForEvent('download'), save.click()])
  const path = join(await testFolder(), 'reply.json')
  await download.saveAs(path)
  const { items } = replyIn(await readFile(path, 'utf8'))
  const [{ text: said, voice }] = items as [ReviewComment]
  expect(said).toBe('Hold here')
  expect(voice!.durationS).toBeGreaterThan(0.9)
  expect(faults).toEqual([])
})
