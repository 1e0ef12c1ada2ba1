import type { Locator } from 'playwright-core'
import { expect } from 'vitest'

const NOTE_END = `document.querySelector('.remarks audio').addEventListener('ended', ({ target }) => {
  target.dataset.heardS = String(target.currentTime)
})`

/**
 * Plays the one recording of a list of comments to its end.
 *
 * @returns how much of it was played, s
 */
export async function heardS(comments: Locator): Promise<number> {
  const audio = comments.locator('audio')
  await comments.page().evaluate(NOTE_END)
  const play = comments.getByRole('button', { name: /^Play, \d+ s$/ })
  await play.click()
  await expect.poll(() => audio.getAttribute('data-heard-s'), { timeout: 60_000 }).not.toBeNull()
  await play.waitFor()
  return Number(await audio.getAttribute('data-heard-s'))
}

/** Speaks into the invented microphone until at least a second is recorded. */
export async function speak(place: Locator): Promise<void> {
  await place.getByRole('button', { name: 'Record' }).click()
  await place
    .getByRole('timer')
    .getByText(/[1-9]\d* s of 60/)
    .waitFor()
  await place.getByRole('button', { name: 'Stop', exact: true }).click()
  await place.getByRole('button', { name: 'Delete the recording' }).waitFor()
}
