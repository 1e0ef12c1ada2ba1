import { execFileSync } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test, vi } from 'vitest'
import type { pageHtml as pageHtmlOfSources } from '../../../../main/outputs/report/page-html.tsx'
import { buildApp } from '../../../../main/hosts/build/build-app.ts'
import { ROOT, sourceStamp } from '../../../../main/hosts/build/source-stamp.ts'
import { programVersion } from '../../../../main/program-version.ts'

test('the built program is JavaScript that runs without a loader, and its preload script needs only Electron', async () => {
  await buildApp()
  const built = join(ROOT, 'out', 'app', 'main')
  const version = execFileSync(process.execPath, [join(built, 'cli', 'tiphold.js'), '--version'], { encoding: 'utf8' })
  expect(version.trim()).toBe(programVersion)
  const { pageHtml } = (await import(join(built, 'outputs', 'report', 'page-html.js'))) as {
    pageHtml: typeof pageHtmlOfSources
  }
  expect(pageHtml({ title: 'A page', blocks: [], foot: [] })).toContain('.chart-paw')
  const preload = readFileSync(join(built, 'hosts', 'electron', 'preload.cjs'), 'utf8')
  expect([...preload.matchAll(/require\("([^"]+)"\)/g)].map(([, name]) => name)).toEqual(['electron'])
})

test('the packing list names only files that are there, the texts of licences among them', async () => {
  interface PackingList {
    readonly extraResources: readonly { readonly from: string; readonly filter?: readonly string[] }[]
    readonly mac: Readonly<Record<'entitlements' | 'entitlementsInherit', string>>
  }
  // Without ffmpeg-static the list refuses to be read; a machine may lack it.
  vi.stubEnv('TIPHOLD_PACK_OLD_FFMPEG', 'yes')
  const path = join(ROOT, 'electron-builder.config.js')
  const { default: list } = (await import(path)) as { default: PackingList }
  vi.unstubAllEnvs()
  const places = list.extraResources.map(({ from }) => from)
  // Electron's own folder comes with its binary.
  const missing = places.filter((place) => !existsSync(join(ROOT, place)) && !place.includes('electron/dist'))
  expect(missing).toEqual([])
  expect(existsSync(join(ROOT, 'main/notices/licence-texts/gpl-3.0.txt'))).toBe(true)
  // macOS lets a hardened program and its helpers record with this entitlement alone (Apple, "Hardened Runtime").
  for (const place of [list.mac.entitlements, list.mac.entitlementsInherit]) {
    expect(readFileSync(join(ROOT, place), 'utf8')).toMatch(
      /<key>com\.apple\.security\.device\.audio-input<\/key>\s*<true\/>/,
    )
  }
})

test('a stamp changes with a name or a content, and not with the time', async () => {
  const places = ['main/contract']
  expect(await sourceStamp(places)).toBe(await sourceStamp(places))
  expect(await sourceStamp(['main/contract/calls.ts'])).not.toBe(await sourceStamp(['main/contract/clips.ts']))
})
