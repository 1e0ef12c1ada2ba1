import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { chromium } from 'playwright-core'
import { ROOT } from './source-stamp.ts'

/** Draws the icon in the sizes that packages need. Run it after a change of the drawing; the pictures are kept. */
const folder = join(ROOT, 'main', 'hosts', 'electron', 'icons')
const drawing = await readFile(join(folder, 'tiphold.svg'), 'utf8')
const browser = await chromium.launch({ executablePath: process.argv[2] ?? '/usr/bin/chromium' })
for (const sizePx of [256, 1024]) {
  const page = await browser.newPage({ viewport: { width: sizePx, height: sizePx } })
  await page.setContent(`<style>body { margin: 0 } svg { display: block }</style>${drawing}`)
  await page.screenshot({ path: join(folder, `tiphold-${sizePx}.png`), omitBackground: true })
}
await browser.close()
