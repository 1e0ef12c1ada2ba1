/**
 * `npm run bench:app -- [steps each way] [thousands of steps without waiting]`: the program as people start it, in a
 * real Chromium, on a library of its own with a 1080p60 ride. How long it takes from the start to the first screen; how
 * long a step by key takes until the picture of its frame is painted; and what an hour of stepping, three steps a
 * second, leaves in memory.
 */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { once } from 'node:events'
import { mkdtemp, rm } from 'node:fs/promises'
import { loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Browser, chromium, type Page } from 'playwright-core'
import { buildWindow } from '../../main/hosts/build/build-window.ts'
import { findBrowser } from '../../main/hosts/start/find-browser.ts'
import { libraryWithLargeRide } from './large-ride.ts'

/** The clip has 312 frames. */
const stepsEachWay = Math.min(300, Number(process.argv[2] ?? 300))
const thousands = Number(process.argv[3] ?? 11)
const ROOT = join(import.meta.dirname, '../..')

/**
 * In the page. A step ends when the browser has painted the first picture that names another frame: the label and the
 * pixels change in one go, and a message that is posted while a picture is being made comes after it.
 */
const WATCH_STEPS = `(() => {
  const film = document.querySelector('.frame-picture')
  const message = () => new Promise((resolve) => {
    const channel = new MessageChannel()
    channel.port1.onmessage = resolve
    channel.port2.postMessage(0)
  })
  window.watchStep = () => {
    window.stepPainted = new Promise((resolve) => {
      let fromMs = 0
      addEventListener('keydown', (event) => { fromMs = event.timeStamp }, { capture: true, once: true })
      const watch = new MutationObserver(() => {
        watch.disconnect()
        requestAnimationFrame(() => void message().then(() => resolve(performance.now() - fromMs)))
      })
      watch.observe(film, { attributeFilter: ['aria-label'] })
    })
  }
  window.stepWithoutWaiting = async (steps) => {
    let key = '.'
    for (let step = 0; step < steps; step++) {
      if (step % 200 === 0) key = key === '.' ? ',' : '.'
      document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }))
      await message()
    }
  }
})()`

const folder = await mkdtemp(join(tmpdir(), 'app-bench-'))
const executablePath = findBrowser()
if (executablePath === null) throw new Error('This bench needs a Chromium on the PATH.')
const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] })
try {
  await buildWindow(() => console.log('building the window'))
  await startToUsable('a new library', join(folder, 'new'))
  await startToUsable('a library with a ride', join(folder, 'new'))
  await stepThrough(await libraryWithLargeRide(folder))
} finally {
  await browser.close()
  await rm(folder, { recursive: true, force: true, maxRetries: 5 })
}

interface Program {
  readonly address: string
  readonly child: ChildProcess
  end(): Promise<void>
}

/** Starts the program on a library and waits for the address that it tells. */
async function start(library: string, command: string, args: readonly string[]): Promise<Program> {
  const env = { ...process.env, TIPHOLD_LIBRARY: library }
  const child = spawn(command, args, { cwd: ROOT, env, stdio: ['ignore', 'pipe', 'inherit'], detached: true })
  const ended = once(child, 'exit')
  const address = await new Promise<string>((resolve, reject) => {
    let said = ''
    child.stdout.on('data', (chunk: Buffer) => {
      said += chunk.toString()
      const [found] = /http:\S+(?=\s)/.exec(said) ?? []
      if (found !== undefined) resolve(found)
    })
    child.once('exit', () => reject(new Error(`The program ended: ${said}`)))
  })
  return {
    address,
    child,
    async end() {
      // As Ctrl-C does: npm, its shell and the program all get it.
      process.kill(-child.pid!, 'SIGINT')
      await ended
    },
  }
}

/** From `npm start -- --no-open`, the window being built and a browser open, until the first screen has its content. */
async function startToUsable(what: string, library: string): Promise<void> {
  const visitor = await browser.newContext()
  const page = await visitor.newPage()
  const fromMs = performance.now()
  const program = await start(library, 'npm', ['start', '--silent', '--', '--no-open'])
  try {
    const toldMs = performance.now()
    await page.goto(program.address)
    await page.getByText('Wren holds to the ground').first().waitFor()
    const [toldS, usableS] = [toldMs - fromMs, performance.now() - fromMs].map((ms) => (ms / 1000).toFixed(2))
    console.log(`${load()} start to usable, ${what}: ${usableS} s (address told after ${toldS} s)`)
    // The first ride of a new library is measured in the background: the next start is to find it.
    await page
      .getByRole('link', { name: /Meadow board/ })
      .first()
      .waitFor({ timeout: 180_000 })
  } finally {
    await visitor.close()
    await program.end()
  }
}

async function stepThrough(library: string): Promise<void> {
  const program = await start(library, process.execPath, [
    '--import',
    import.meta.resolve('tsx'),
    'main/start.ts',
    '--no-open',
  ])
  try {
    const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage()
    await page.goto(program.address)
    await page.getByRole('link', { name: 'Rides' }).click()
    await page.getByRole('link', { name: /Meadow board/ }).click()
    await page.getByRole('img', { name: /^Frame \d+ of the clip$/ }).waitFor()
    await page.getByText('Preparing frames').waitFor({ state: 'detached' })
    await page.evaluate(WATCH_STEPS)
    await page.keyboard.press('Home')
    await page.getByRole('img', { name: 'Frame 0 of the clip' }).waitFor()
    print('forwards', await stepByKeys(page, 'ArrowRight'))
    print('backwards', await stepByKeys(page, 'ArrowLeft'))
    const { pid } = program.child
    const before = await memory(page, pid!)
    const fromMs = performance.now()
    await page.evaluate(`stepWithoutWaiting(${thousands * 1000})`)
    const tookS = (performance.now() - fromMs) / 1000
    await page.waitForTimeout(2000)
    console.log(`${load()} ${thousands},000 steps without waiting in ${tookS.toFixed(0)} s`)
    const after = await memory(page, pid!)
    for (const [what, value] of Object.entries(before)) console.log(`  ${what}: ${value} before, ${after[what]} after`)
  } finally {
    await program.end()
  }
}

/** Steps by keys, each once the one before is painted; ms from each key to its picture. */
async function stepByKeys(page: Page, key: 'ArrowLeft' | 'ArrowRight'): Promise<number[]> {
  const tookMs: number[] = []
  for (let step = 0; step < stepsEachWay; step++) {
    await page.evaluate('watchStep()')
    await page.keyboard.press(key)
    tookMs.push(await page.evaluate<number>('stepPainted'))
  }
  return tookMs
}

/** What page and host hold, MiB, and how many elements and listeners the page has, after a clean-up. */
async function memory(page: Page, hostPid: number): Promise<Record<string, string>> {
  const session = await page.context().newCDPSession(page)
  await session.send('HeapProfiler.collectGarbage')
  const { usedSize } = await session.send('Runtime.getHeapUsage')
  const { nodes, jsEventListeners } = await session.send('Memory.getDOMCounters')
  await session.detach()
  const pids = await rendererPids(browser)
  return {
    'heap of the page': mib(usedSize),
    'elements of the page': String(nodes),
    'listeners of the page': String(jsEventListeners),
    'all of the page (resident)': mib(pids.reduce((sum, pid) => sum + residentBytes(pid), 0)),
    'all of the host (resident)': mib(residentBytes(hostPid)),
  }
}

async function rendererPids(of: Browser): Promise<number[]> {
  const session = await of.newBrowserCDPSession()
  const { processInfo } = await session.send('SystemInfo.getProcessInfo')
  await session.detach()
  return processInfo.filter(({ type }) => type === 'renderer').map(({ id }) => id)
}

/** NaN where there is no `ps`. */
function residentBytes(pid: number): number {
  const { stdout } = spawnSync('ps', ['-o', 'rss=', '-p', String(pid)], { encoding: 'utf8' })
  return stdout?.trim() ? Number(stdout) * 1024 : NaN
}

function mib(bytes: number): string {
  return `${(bytes / 2 ** 20).toFixed(1)} MiB`
}

function print(what: string, tookMs: readonly number[]): void {
  const sorted = tookMs.toSorted((a, b) => a - b)
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!.toFixed(1)
  console.log(`${load()} ${tookMs.length} steps ${what}: p50 ${at(0.5)} ms, p95 ${at(0.95)} ms, slowest ${at(1)} ms`)
}

/** How busy the machine was in the last minute. */
function load(): string {
  return `[load ${loadavg()[0]!.toFixed(1)}]`
}
