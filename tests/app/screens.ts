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

const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']

/** What a person with another way of seeing or moving would stumble over: a line a fault, after WCAG 2.2 A and AA. */
export function accessFaults(page: Page): Promise<readonly string[]> {
  return faultsFoundBy(page, { type: 'tag', values: TAGS })
}

/** The part of it that other colours can change. */
export function contrastFaults(page: Page): Promise<readonly string[]> {
  return faultsFoundBy(page, { type: 'rule', values: ['color-contrast'] })
}

async function faultsFoundBy(
  page: Page,
  runOnly: { readonly type: 'tag' | 'rule'; readonly values: string[] },
): Promise<readonly string[]> {
  // There are no frames of other origins, so axe needs no page of its own; only faults are worked out in full.
  const axe = new AxeBuilder({ page }).setLegacyMode().options({ resultTypes: ['violations'], runOnly })
  const { violations, passes } = await axe.analyze()
  if (passes.length === 0) throw new Error('axe found nothing to look at')
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map(({ target, html }) => `${id}: ${help} (${target.join(' ')}) ${html.slice(0, 160)}`),
  )
}
