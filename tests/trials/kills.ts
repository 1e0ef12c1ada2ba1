import { truncate } from 'node:fs/promises'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { seededRandom } from '../../analysis/numeric/random.ts'
import { LibraryProblem } from '../../main/library/library-problem.ts'
import { openLibrary, type OpenLibrary } from '../../main/library/open-library.ts'
import { inFolder, orHangs, startChild, type TrialResult } from './trial.ts'

interface Promised {
  dogNote: number
  readonly rides: Map<number, 'measured' | 'corrected' | 'removed'>
}

/** A library is written anew after so many kills, so that opening it does not come to be most of the trial. */
const KILLS_PER_LIBRARY = 25
/** A writer is killed this long after its first change at most, ms. */
const LONGEST_LIFE_MS = 450

/** Kills a writer again and again; every change that it was told is kept must be there, and nothing else changed. */
export async function killsTrial(kills: number): Promise<TrialResult> {
  const random = seededRandom(51)
  const faults: string[] = []
  let acknowledged = 0
  for (let done = 0; done < kills; done += KILLS_PER_LIBRARY) {
    await inFolder(async (folder) => {
      const promised: Promised = { dogNote: -1, rides: new Map() }
      for (let kill = done; kill < Math.min(kills, done + KILLS_PER_LIBRARY); kill++) {
        const firstN = Math.max(0, promised.dogNote, ...promised.rides.keys()) + 2
        const lines = await killedWriter(folder, firstN, LONGEST_LIFE_MS * random.uniform())
        acknowledged += lines.length
        take(promised, lines)
        const library = await orHangs(`opening after kill ${kill}`, openWhenFree(folder))
        faults.push(...(await lossesIn(library, promised)).map((loss) => `kill ${kill}: ${loss}`))
        settle(promised, library)
        await library.close()
      }
      // Without its index the library says the same.
      await truncate(join(folder, 'index.json'), 100)
      const rebuilt = await openLibrary(folder)
      faults.push(...(await lossesIn(rebuilt, promised)).map((loss) => `without an index: ${loss}`))
      await rebuilt.close()
    })
  }
  return { name: 'kills', counts: { kills, 'acknowledged changes': acknowledged }, faults, skipped: null }
}

/**
 * One that was killed while it took or let go of its lock leaves one that nobody owns: the next program says that the
 * library is in use, and gets it half a minute later.
 */
async function openWhenFree(folder: string): Promise<OpenLibrary> {
  for (;;) {
    try {
      return await openLibrary(folder)
    } catch (error) {
      if (!(error instanceof LibraryProblem) || error.code !== 'in-use') throw error
      await wait(2000)
    }
  }
}

/** Starts a program that writes to the library, kills it after a while, and gives all lines that it said. */
async function killedWriter(folder: string, firstN: number, afterMs: number): Promise<readonly string[]> {
  const writer = startChild('writing-child.ts', [folder, String(firstN)])
  // The clock runs from the first change on: starting takes longer on some machines.
  await orHangs(
    'a writer',
    writer.said(() => true),
  )
  setTimeout(() => writer.child.kill('SIGKILL'), afterMs)
  await writer.ended
  return writer.lines
}

function take(promised: Promised, lines: readonly string[]): void {
  for (const line of lines) {
    const [what, n] = [line.split(' ')[0], Number(line.split(' ')[1])]
    if (what === 'dog') promised.dogNote = n
    if (what === 'ride') promised.rides.set(n, 'measured')
    if (what === 'corrected' || what === 'removed') promised.rides.set(n, what)
  }
}

/** What was promised and is not there; beyond it at most the one change that was in flight may be done. */
async function lossesIn(library: OpenLibrary, promised: Promised): Promise<string[]> {
  const losses: string[] = []
  const note = Number(library.dogs.get('juno')?.note)
  if (note !== promised.dogNote && note !== promised.dogNote + 1) {
    losses.push(`the dog's note says ${note} where ${promised.dogNote} was kept`)
  }
  const cards = new Map(library.rides.cards().map((card) => [card.id, card]))
  const last = Math.max(...promised.rides.keys())
  for (const [n, state] of promised.rides) {
    const card = cards.get(`ride-${n}`)
    const mayBeRemoved = state === 'removed' || (n === last && n % 3 === 0 && state === 'corrected')
    if (card === undefined) {
      if (!mayBeRemoved) losses.push(`ride ${n}, ${state}, is gone`)
      continue
    }
    if (state === 'removed') losses.push(`ride ${n} came back`)
    if (state === 'corrected' && !card.isCorrected) losses.push(`the corrections of ride ${n} are gone`)
    const ride = await library.rides.get(`ride-${n}`)
    if (ride?.record.measured.clip.fileName !== 'biscuit.mp4') losses.push(`the record of ride ${n} is gone`)
    if (library.clips.get(`clip-${n}`)?.frameTimesS.length !== 51) losses.push(`clip ${n} is not whole`)
  }
  // Before its first ride is kept, only the dog's note tells how far the writer was.
  const newest = Math.max(promised.dogNote, last)
  const unasked = [...cards.keys()].filter((id) => Number(id.slice(5)) > newest + 1)
  return [...losses, ...unasked.map((id) => `${id} was never written`)]
}

/** What the killed one had in flight is settled now; it may not change any more. */
function settle(promised: Promised, library: OpenLibrary): void {
  promised.dogNote = Number(library.dogs.get('juno')?.note)
  const cards = library.rides.cards()
  for (const { id, isCorrected } of cards) {
    promised.rides.set(Number(id.slice(5)), isCorrected ? 'corrected' : 'measured')
  }
  for (const n of promised.rides.keys()) {
    if (!cards.some(({ id }) => id === `ride-${n}`)) promised.rides.set(n, 'removed')
  }
}
