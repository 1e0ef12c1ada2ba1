import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { _electron, type ElectronApplication } from 'playwright-core'
import { afterEach, expect, test } from 'vitest'
import type { HostBridge } from '../../../../main/contract/host-bridge.ts'
import { electronState } from '../../../../main/film/engines/electron-binary.ts'
import { buildApp } from '../../../../main/hosts/build/build-app.ts'
import { buildWindow } from '../../../../main/hosts/build/build-window.ts'
import { needs } from '../../../report/needs.ts'

const ROOT = join(import.meta.dirname, '../../../..')

let shell: ElectronApplication | null = null
let folder: string | null = null

afterEach(async () => {
  await shell?.close()
  if (folder !== null) await rm(folder, { recursive: true, force: true })
})

test('the real Electron opens the window, answers it, and gives it nothing else', async (context) => {
  needs(context, 'the binary of Electron')
  const electron = electronState()
  if (electron.kind !== 'ready') throw new Error('Electron has no binary')
  await buildWindow()
  await buildApp()
  folder = await mkdtemp(join(tmpdir(), 'tiphold-electron-'))
  shell = await _electron.launch({
    executablePath: electron.path,
    args: [`--user-data-dir=${join(folder, 'electron')}`, ROOT],
    env: { ...process.env, TIPHOLD_LIBRARY: join(folder, 'library') },
  })
  const page = await shell.firstWindow()
  await page.getByText('Wren holds to the ground').waitFor()
  expect(page.url()).toBe('app://tiphold/')

  const seen = await page.evaluate(async () => {
    const window = globalThis as unknown as { tipholdHost: HostBridge; require?: unknown; process?: unknown }
    const samples = await window.tipholdHost.call('samples.list', {})
    const outside = await fetch('http://127.0.0.1:9/').then(
      () => 'reached',
      () => 'refused',
    )
    return { samples, outside, node: [typeof window.require, typeof window.process] }
  })
  expect(seen.samples).toMatchObject({ ok: true })
  expect(seen.outside).toBe('refused')
  expect(seen.node).toEqual(['undefined', 'undefined'])
})
