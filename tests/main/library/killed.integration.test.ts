import { spawn } from 'node:child_process'
import { rm, truncate } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { openLibrary, type OpenLibrary } from '../../../main/library/open-library.ts'
import { testFolder } from './things.ts'

/** Starts a program that writes to the library, kills it after a while, and gives all lines that it said. */
async function killedWriter(folder: string, firstN: number, afterMs: number): Promise<string[]> {
  const path = join(import.meta.dirname, 'writing-child.ts')
  const child = spawn(process.execPath, ['--import', 'tsx', path, folder, String(firstN)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  let said = ''
  child.stdout.setEncoding('utf8')
  await new Promise<void>((resolve) => {
    child.stdout.on('data', (text: string) => {
      // The clock runs from the first change on: starting takes longer on some machines.
      if (said === '') setTimeout(() => child.kill('SIGKILL'), afterMs)
      said += text
    })
    child.on('close', () => resolve())
  })
  return said.split('\n').filter(Boolean)
}

interface Promised {
  dogNote: number
  readonly rides: Map<number, 'measured' | 'corrected' | 'removed'>
}

function take(promised: Promised, lines: readonly string[]): void {
  for (const line of lines) {
    const [what, n] = [line.split(' ')[0], Number(line.split(' ')[1])]
    if (what === 'dog') promised.dogNote = n
    if (what === 'ride') promised.rides.set(n, 'measured')
    if (what === 'corrected' || what === 'removed') promised.rides.set(n, what)
  }
}

/** Everything promised is there; beyond it at most the one change that was in flight. */
async function expectKept(library: OpenLibrary, promised: Promised): Promise<void> {
  const note = Number(library.dogs.get('juno')?.note)
  expect([promised.dogNote, promised.dogNote + 1]).toContain(note)
  const cards = new Map(library.rides.cards().map((card) => [card.id, card]))
  const last = Math.max(...promised.rides.keys())
  for (const [n, state] of promised.rides) {
    const card = cards.get(`ride-${n}`)
    const mayBeRemoved = state === 'removed' || (n === last && n % 3 === 0 && state === 'corrected')
    if (card === undefined) expect(mayBeRemoved, `ride ${n}, ${state}, is gone`).toBe(true)
    else {
      expect(state, `ride ${n} came back`).not.toBe('removed')
      if (state === 'corrected') expect(card.isCorrected).toBe(true)
      const ride = await library.rides.get(`ride-${n}`)
      expect(ride?.record.measured.clip.fileName).toBe('biscuit.mp4')
      expect(library.clips.get(`clip-${n}`)?.frameTimesS).toHaveLength(51)
    }
  }
  expect([...cards.keys()].filter((id) => Number(id.slice(5)) > last + 1)).toEqual([])
}

test('a program that is killed again and again loses nothing but the change in flight', async () => {
  const folder = await testFolder()
  const promised: Promised = { dogNote: -1, rides: new Map() }
  for (let kill = 0; kill < 12; kill++) {
    const firstN = Math.max(0, promised.dogNote, ...promised.rides.keys()) + 2
    take(promised, await killedWriter(folder, firstN, 5 + 37 * kill))
    const library = await openLibrary(folder)
    await expectKept(library, promised)
    // What the killed one had in flight is settled now; it may not change any more.
    promised.dogNote = Number(library.dogs.get('juno')?.note)
    for (const { id, isCorrected } of library.rides.cards()) {
      promised.rides.set(Number(id.slice(5)), isCorrected ? 'corrected' : 'measured')
    }
    for (const n of promised.rides.keys()) {
      if (!library.rides.cards().some(({ id }) => id === `ride-${n}`)) promised.rides.set(n, 'removed')
    }
    await library.close()
  }
  expect(promised.rides.size).toBeGreaterThan(12)
  await truncate(join(folder, 'index.json'), 100)
  const rebuilt = await openLibrary(folder)
  await expectKept(rebuilt, promised)
  await rebuilt.close()
  await rm(folder, { recursive: true })
})
