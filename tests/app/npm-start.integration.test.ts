import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { LOCK } from '../../main/library/folder-lock.ts'
import { needs } from '../report/needs.ts'
import { browserOfThisRun } from './browser-of-this-run.ts'
import { accessFaults, saveScreen } from './screens.ts'

const ROOT = join(import.meta.dirname, '../..')

let folder: string
let started: ChildProcess[] = []

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tiphold-start-'))
})

afterEach(async () => {
  for (const child of started.filter(({ exitCode, signalCode }) => exitCode === null && signalCode === null)) {
    const ended = once(child, 'exit')
    child.kill('SIGKILL')
    await ended
  }
  started = []
  await rm(folder, { recursive: true, force: true })
})

/** Starts the program as `npm start -- --no-open` does, with a library of its own. */
function start(): { child: ChildProcess; said: () => string; exit: Promise<number | null> } {
  const args = ['--import', import.meta.resolve('tsx'), 'main/start.ts', '--no-open']
  const env = { ...process.env, TIPHOLD_LIBRARY: join(folder, 'library') }
  const child = spawn(process.execPath, args, { cwd: ROOT, env, stdio: ['ignore', 'pipe', 'pipe'] })
  started.push(child)
  let text = ''
  for (const stream of [child.stdout, child.stderr]) stream?.on('data', (chunk: Buffer) => (text += chunk.toString()))
  const exit = once(child, 'close').then(([code]) => code as number | null)
  return { child, said: () => text, exit }
}

async function addressOf({ said }: ReturnType<typeof start>): Promise<string> {
  const address = () => /http:\S+/.exec(said())?.[0] ?? ''
  await vi.waitFor(() => expect(address()).not.toBe(''), 60_000)
  return address()
}

test('the address that is told shows the first screen, and the browser has nothing to complain of', async (context) => {
  needs(context, 'a Chromium on the PATH')
  const program = start()
  const address = await addressOf(program)
  const browser = await browserOfThisRun()
  const visitor = await browser.newContext({ viewport: { width: 1280, height: 800 } })
  const other = await browser.newContext()
  try {
    const page = await visitor.newPage()
    const complaints: string[] = []
    page.on('console', (message) => (message.type() === 'error' ? complaints.push(message.text()) : undefined))
    page.on('pageerror', ({ message }) => complaints.push(message))
    await page.goto(address)
    await page.getByRole('region', { name: 'Sample rides' }).getByText('Wren holds to the ground').waitFor()
    await saveScreen(page, 'first-screen')
    expect(complaints).toEqual([])
    expect(await accessFaults(page)).toEqual([])
    // The token is spent and gone from the address.
    expect(new URL(page.url()).search).toBe('')
    const stranger = await other.newPage()
    expect((await stranger.goto(address))?.status()).toBe(403)
  } finally {
    await visitor.close()
    await other.close()
  }
})

test('a second program on the same library says that it is in use; Ctrl-C ends the first and lets go of the library', async () => {
  const program = start()
  await addressOf(program)
  const second = start()
  expect(await second.exit).toBe(1)
  expect(second.said()).toContain('is open in another Tiphold')
  const lock = join(folder, 'library', LOCK)
  expect(existsSync(lock)).toBe(true)
  program.child.kill('SIGINT')
  expect(await program.exit).toBe(0)
  expect(existsSync(lock)).toBe(false)
})
