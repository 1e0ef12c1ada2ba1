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
export async function accessFaults(page: Page): Promise<readonly string[]> {
  const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']
  const { violations } = await new AxeBuilder({ page }).withTags(rules).analyze()
  return violations.flatMap(({ id, help, nodes }) => nodes.map(({ target }) => `${id}: ${help} (${target.join(' ')})`))
}
