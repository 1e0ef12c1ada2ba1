import { rm } from 'node:fs/promises'
import type { Page } from 'playwright-core'
import { afterAll, describe, expect, test, type TestContext } from 'vitest'
import { LEAST_WINDOW } from '../../main/contract/window-size.ts'
import { needs } from '../report/needs.ts'
import { libraryWithRide } from './made-libraries.ts'
import { openWindow, type OpenWindow } from './open-window.ts'
import { accessFaults, contrastFaults } from './screens.ts'

// One library and one window for all tests: each leaves the ride as it was measured.
let opened: OpenWindow | null = null
let folder: string | null = null

afterAll(async () => {
  await opened?.close()
  if (folder !== null) await rm(folder, { recursive: true, force: true })
})

/** The ride in the window, freshly loaded. */
async function openRide(context: TestContext): Promise<Page> {
  needs(context, 'a Chromium on the PATH')
  folder ??= await libraryWithRide()
  if (opened === null) opened = await openWindow(folder)
  else await opened.page.reload()
  await showRide(opened.page)
  return opened.page
}

async function showRide(page: Page): Promise<void> {
  await page.getByRole('link', { name: 'Rides' }).click()
  await page.getByRole('link', { name: /Meadow board/ }).click()
  await page.getByRole('img', { name: /^Frame \d+ of the clip$/ }).waitFor()
}

async function undoAll(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Undo all corrections' }).click()
  await page.getByRole('button', { name: 'Undo all', exact: true }).click()
  await page.getByText('Corrected by hand').waitFor({ state: 'detached' })
}

/** The sentence on the stay, with plain blanks. */
async function stay(page: Page): Promise<string> {
  const sentence = page.getByRole('region', { name: 'Answers' }).locator('.answer > p').filter({ hasText: 'stayed on' })
  return (await sentence.first().innerText()).replaceAll('\u00a0', ' ')
}

/** Where a handle of the chart stands, s. */
async function momentOf(page: Page, name: string): Promise<number> {
  return Number(await page.getByRole('slider', { name }).getAttribute('aria-valuenow'))
}

/** Moves the handle of leaving a frame back, without waiting for it to be kept; gives where it is then, s. */
async function moveLeft(page: Page): Promise<number> {
  const before = await momentOf(page, 'Dog left')
  await page.getByRole('slider', { name: 'Dog left' }).focus()
  await page.keyboard.press('ArrowLeft')
  const after = await momentOf(page, 'Dog left')
  expect(after).toBeLessThan(before)
  return after
}

describe('a ride is corrected', () => {
  test('a moment moved by keys changes the sentence at once, is undone, and is found again after a restart', async (context) => {
    const page = await openRide(context)
    const landedS = await momentOf(page, 'Board landed')
    const leftS = await momentOf(page, 'Dog left')
    const measured = `${(leftS - landedS).toFixed(2)} s`
    expect(await stay(page)).toContain(measured)
    const left = page.getByRole('slider', { name: 'Dog left' })
    await left.focus()
    await page.keyboard.press('ArrowLeft')
    for (let press = 0; press < 3; press++) await page.keyboard.press('Shift+ArrowLeft')
    const movedS = await momentOf(page, 'Dog left')
    expect(leftS - movedS).toBeGreaterThan(0.3 - 1e-6)
    expect(leftS - movedS).toBeLessThan(0.4)
    expect(await left.getAttribute('aria-valuetext')).toBe(`${movedS.toFixed(3)} s ± 0.019, set by hand`)
    const moved = `${(movedS - landedS).toFixed(2)} s`
    expect(await stay(page)).toContain(moved)
    await page.getByText(`Measured: The dog stayed on for ${measured}`).waitFor()
    // 30 frames a second from 0 on.
    await page.getByRole('img', { name: `Frame ${Math.round(movedS * 30)} of the clip` }).waitFor()

    // One go of keys is one step back.
    await page.keyboard.press('Control+z')
    expect(await stay(page)).toContain(measured)
    expect(await page.getByText('Corrected by hand').count()).toBe(0)
    const kept = page.waitForResponse(/\/call\/rides\.correct$/)
    await page.keyboard.press('Control+Shift+z')
    expect(await stay(page)).toContain(moved)
    await kept

    await opened!.close()
    opened = null
    const again = await openRide(context)
    expect(await stay(again)).toContain(moved)
    await undoAll(again)
    expect(await stay(again)).toContain(measured)
    expect(opened!.problems()).toEqual([])
  })

  test('a moment moved just before the page is loaded anew, left or closed is kept, and still undone after coming back', async (context) => {
    const page = await openRide(context)
    let moved = await moveLeft(page)
    await page.reload()
    expect(await momentOf(page, 'Dog left')).toBe(moved)
    moved = await moveLeft(page)
    await page.goto('about:blank')
    await page.goBack()
    expect(await momentOf(page, 'Dog left')).toBe(moved)
    // To the list and back at once, within one page.
    const before = moved
    moved = await moveLeft(page)
    await page.getByRole('link', { name: 'Rides' }).click()
    await page.getByRole('link', { name: /Meadow board/ }).click()
    expect(await momentOf(page, 'Dog left')).toBe(moved)
    await page.keyboard.press('Control+z')
    await expect.poll(() => momentOf(page, 'Dog left')).toBe(before)
    await page.keyboard.press('Control+Shift+z')
    await expect.poll(() => momentOf(page, 'Dog left')).toBe(moved)
    // As the window is closed.
    const other = await page.context().newPage()
    await other.goto(opened!.origin)
    await showRide(other)
    moved = await moveLeft(other)
    await other.close()
    await page.reload()
    await expect.poll(() => momentOf(page, 'Dog left')).toBe(moved)
    await undoAll(page)
  })

  test('a moment is dragged with the mouse, and film, sentence and verdict go along; one that did not happen is withheld', async (context) => {
    const page = await openRide(context)
    const before = await stay(page)
    const handle = page.getByRole('slider', { name: 'Dog left' })
    const landed = (await page.getByRole('slider', { name: 'Board landed' }).boundingBox())!
    const box = (await handle.boundingBox())!
    const y = box.y + 8
    await page.mouse.move(box.x + box.width / 2, y)
    await page.mouse.down()
    await page.mouse.move(landed.x, y, { steps: 6 })
    await page.mouse.up()
    await page.getByRole('region', { name: 'Verdicts' }).getByText('before the landing', { exact: true }).waitFor()
    const shownS = await momentOf(page, 'Dog left')
    expect(shownS).toBeLessThan(await momentOf(page, 'Board landed'))
    // 30 frames a second from 0 on.
    await page.getByRole('img', { name: `Frame ${Math.round(shownS * 30)} of the clip` }).waitFor()
    await page.getByRole('button', { name: 'Undo', exact: true }).click()
    expect(await stay(page)).toBe(before)
    expect(await page.getByRole('button', { name: 'Undo', exact: true }).isDisabled()).toBe(true)

    // What did not happen is withheld where its number stood, and can be set to the frame shown.
    const landing = page.getByRole('slider', { name: 'Board landed' })
    const landedAt = await landing.getAttribute('aria-valuetext')
    await page.getByRole('button', { name: 'Moments' }).click()
    await page.getByRole('button', { name: /^Board landed/ }).click()
    await page.getByRole('button', { name: 'Did not happen' }).click()
    await page.getByText('Set by hand: the board did not land.').first().waitFor()
    expect(await landing.count()).toBe(0)
    await page.getByRole('button', { name: 'Next frame' }).click()
    await page.getByRole('button', { name: /^Set to this frame/ }).click()
    expect(await landing.getAttribute('aria-valuetext')).toMatch(/^3\.300 s ± .*, set by hand$/)
    await page.getByRole('button', { name: 'Undo this correction: Board landed' }).click()
    expect(await landing.getAttribute('aria-valuetext')).toBe(landedAt)
  })

  test('a paw contact is struck out, put back, added and moved, and first on follows', async (context) => {
    const page = await openRide(context)
    const heading = (count: number) => page.getByRole('button', { name: `Paw contacts, ${count}` })
    const count = Number(/\d+/.exec(await page.getByRole('button', { name: /^Paw contacts/ }).innerText())![0])
    const measuredS = await momentOf(page, 'First paw on')
    await heading(count).click()
    const paws = page.locator('.paws li')
    const secondFromS = /([\d.]+) to/.exec(await paws.nth(1).innerText())![1]
    await paws.first().getByRole('button').click()
    await page.getByRole('button', { name: 'Not a paw' }).click()
    await heading(count - 1).waitFor()
    expect((await momentOf(page, 'First paw on')).toFixed(2)).toBe(secondFromS)
    await page.getByRole('button', { name: 'Restore this paw' }).click()
    await heading(count).waitFor()
    expect(await momentOf(page, 'First paw on')).toBe(measuredS)
    await page.getByRole('button', { name: 'Add a paw in this frame' }).click()
    await heading(count + 1).waitFor()
    await page.getByRole('textbox', { name: /^Past the pivot/ }).fill('-1.53')
    await page.keyboard.press('Enter')
    await page.getByRole('button', { name: /1\.53 m before the pivot.*added/ }).waitFor()
    // By pointing in the film: the middle of the picture of this clip is near the pivot.
    const film = (await page.getByRole('img', { name: /^Frame/ }).boundingBox())!
    await page.mouse.click(film.x + 0.48 * film.width, film.y + 0.5 * film.height)
    await page.getByRole('button', { name: /0\.\d\d m (past|before) the pivot.*added/ }).waitFor()
    await page.getByRole('button', { name: 'Remove', exact: true }).click()
    await heading(count).waitFor()
  })

  test('a zone is judged by eye with the measured verdict beside it; title, dog and note are kept', async (context) => {
    const page = await openRide(context)
    await page.getByRole('button', { name: 'Judge the down contact by eye' }).click()
    await page.getByRole('menuitem', { name: 'I see it missed' }).click()
    const card = page.getByRole('article').filter({ hasText: 'Down contact' })
    await card.getByText('missed', { exact: true }).waitFor()
    await card.getByText('Measured: touched').waitFor()
    await page.getByRole('button', { name: 'Judge the down contact by eye' }).click()
    await page.getByRole('menuitem', { name: 'Undo this correction' }).click()
    await card.getByText('touched', { exact: true }).waitFor()
    expect(await card.getByText('By eye.').count()).toBe(0)

    await page.getByRole('button', { name: 'Title, dog and note' }).click()
    await page.getByRole('textbox', { name: 'Title' }).fill('Second run, windy')
    await page.getByRole('textbox', { name: 'Note' }).fill('Handler far ahead')
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.getByRole('heading', { name: /Second run, windy/ }).waitFor()
    expect(await page.getByText(/Handler far ahead/).count()).toBe(1)
  })
})

describe('the film', () => {
  test('is stepped by keys, to the ends and played, its overlays are turned on and off, and it fits into the smallest window', async (context) => {
    const page = await openRide(context)
    const frame = (n: number) => page.getByRole('img', { name: `Frame ${n} of the clip` })
    await page.keyboard.press('Home')
    await frame(0).waitFor()
    await page.keyboard.press('.')
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('Shift+ArrowRight')
    await frame(12).waitFor()
    await page.keyboard.press(',')
    await frame(11).waitFor()
    await page.keyboard.press('End')
    await frame(155).waitFor()
    await page.getByRole('button', { name: 'Plank', pressed: true }).waitFor()
    await page.keyboard.press('b')
    await page.getByRole('button', { name: 'Plank', pressed: false }).waitFor()
    // Where the dog is on the plank D draws its outline, a closed line, and takes it away.
    await page.keyboard.press('Home')
    for (let tens = 0; tens < 8; tens++) await page.keyboard.press('Shift+ArrowRight')
    await frame(80).waitFor()
    await page.keyboard.press('d')
    await page.getByRole('button', { name: 'Dog', exact: true, pressed: true }).waitFor()
    const outline = page.locator('path.overlay-dog')
    await expect.poll(() => outline.getAttribute('d')).toMatch(/^M([^L]*L){12}.*Z$/)
    await page.keyboard.press('d')
    await expect.poll(() => outline.count()).toBe(0)
    await page.keyboard.press('Home')
    await page.getByRole('radio', { name: 'full speed' }).check({ force: true })
    await page.getByRole('button', { name: 'Play' }).click()
    // The clip lasts 5.2 s.
    await frame(155).waitFor()
    await page.getByRole('button', { name: 'Play' }).waitFor()
    expect(opened!.problems()).toEqual([])

    const before = page.viewportSize()!
    await page.setViewportSize({ width: LEAST_WINDOW.widthPx, height: LEAST_WINDOW.heightPx })
    const chart = async () => (await page.getByRole('group', { name: 'Plank chart' }).boundingBox())!
    // The chart is drawn anew once the window has told its new size.
    await expect.poll(async () => (await chart()).y + (await chart()).height).toBeLessThanOrEqual(LEAST_WINDOW.heightPx)
    const { x, width } = await chart()
    expect(x + width).toBeLessThanOrEqual(LEAST_WINDOW.widthPx)
    const film = (await page.getByRole('img', { name: /^Frame/ }).boundingBox())!
    expect(film.height).toBeGreaterThan(180)
    const hidden = await page.evaluate<number>(
      'document.documentElement.scrollWidth - document.documentElement.clientWidth',
    )
    expect(hidden).toBe(0)
    await page.setViewportSize(before)
  })
})

describe('for everyone', () => {
  test('the ride screen passes the accessibility rules, light and dark, with everything opened', async (context) => {
    const page = await openRide(context)
    await page.getByRole('button', { name: 'Moments' }).click()
    await page.getByRole('button', { name: /^Paw contacts/ }).click()
    await page.getByRole('button', { name: 'All numbers' }).click()
    await page.getByRole('button', { name: 'Not measured, and why' }).click()
    await page.getByRole('slider', { name: 'Dog left' }).focus()
    expect(await accessFaults(page)).toEqual([])
    await page.locator('.paws li').first().getByRole('button').click()
    expect(await accessFaults(page)).toEqual([])
    await page.emulateMedia({ colorScheme: 'dark' })
    expect(await contrastFaults(page)).toEqual([])
  })
})
