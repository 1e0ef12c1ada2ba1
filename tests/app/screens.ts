import { mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'

const FOLDER = join(import.meta.dirname, '../../out/screens')

/** Keeps what the page shows as out/screens/NAME.png, to be looked at. */
export async function saveScreen(page: Page, name: string): Promise<string> {
  await mkdir(FOLDER, { recursive: true })
  const path = join(FOLDER, `${name}.png`)
  await page.screenshot({ path })
  return path
}

/** What a person with another way of seeing or moving would stumble over: a line a fault, after WCAG 2.2 A and AA. */
export function accessFaults(page: Page): Promise<readonly string[]> {
  return faultsFoundBy(
    new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']),
  )
}

/** The part of it that other colours can change. */
export function contrastFaults(page: Page): Promise<readonly string[]> {
  return faultsFoundBy(new AxeBuilder({ page }).withRules(['color-contrast']))
}

async function faultsFoundBy(axe: AxeBuilder): Promise<readonly string[]> {
  const { violations } = await axe.analyze()
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map(({ target, html }) => `${id}: ${help} (${target.join(' ')}) ${html.slice(0, 160)}`),
  )
}
