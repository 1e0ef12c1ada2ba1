import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { CLIPS } from './clip-list.ts'
import { writeClip } from './files/write-clip.ts'
import { writeLongClip } from './long-clip.ts'
import { randomScenario } from './random-scenario.ts'
import type { Scenario } from './scenario.ts'

/**
 * Draws and writes clips of seesaw rides and drop tests with exact truth, to check the measuring with. Nothing is
 * shared with the measuring: physics, camera, geometry and definitions are written here a second time.
 *
 * A scenario (scenario.ts) names board, dog, people, camera, field and sound, all invented; a seed does the rest, so the
 * same scenario gives the same clip. simulation/ moves the board as a rigid body under the dog's weight, in steps of
 * half a millisecond, and walks the dog with paws fixed to what they stand on; picture/ draws it with a software
 * rasteriser (eight samples a pixel, each at its own moment of the exposure); files/ writes, beside the clip, what a
 * user would type (NAME.board.json) and click with 1.5 px of noise (NAME.marks.json), and what is true (NAME.truth.json,
 * read from the simulation every millisecond).
 *
 * The clips of the repository (clip-list.ts):
 *   wren-hold            an ordinary ride: waits until the board has landed
 *   pilot-early-leap     gallops, flies off before the landing; rolling shutter and barrel distortion
 *   juno-missed-contact  leaps over the down contact; handler behind the plank, indoors, lamps that flicker
 *   biscuit-slow-board   a small dog on a heavy board that bends and lands on soft ground; filmed by hand
 *   moth-slow-motion     runs through; captured at 240 frames a second, stored at 30, sound slowed with the pictures
 *   drop-1kg, drop-2kg   two drop tests of one board; the second filmed upright, with the container's rotation flag
 */
const USAGE = `Draws clips of seesaw rides and drop tests, with their truth.
  npm run samples [-- NAME...]                            the clips of the repository, or some of them
  npm run samples -- --random N [--seed S] --out DIR      N invented rides and drop tests
  npm run samples -- --long --out DIR                     a minute of 1080p60 with two rides`

try {
  await run()
} catch (error) {
  console.error(error instanceof Error ? error.message : error)
  process.exitCode = 2
}

async function run(): Promise<void> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      random: { type: 'string' },
      seed: { type: 'string', default: '1' },
      long: { type: 'boolean', default: false },
      out: { type: 'string' },
      help: { type: 'boolean', default: false },
    },
  })
  if (values.help) console.log(USAGE)
  else if (values.long) await writeLongClip(folderAsked(values.out))
  else if (values.random !== undefined) {
    const scenarios = invented(whole('random', values.random), whole('seed', values.seed))
    await writeAll(scenarios, folderAsked(values.out))
  } else await writeAll(chosen(positionals), values.out ?? join(import.meta.dirname, 'clips'))
}

function folderAsked(out: string | undefined): string {
  if (out === undefined) throw new Error('Say where to write: --out DIR')
  return out
}

function whole(name: string, text: string): number {
  const number = Number(text)
  if (!Number.isInteger(number) || number < 0) throw new Error(`--${name} wants a whole number, not ${text}`)
  return number
}

function* invented(count: number, seed: number): Generator<Scenario> {
  for (let number = 1; number <= count; number++) yield randomScenario(seed, number)
}

function chosen(names: readonly string[]): readonly Scenario[] {
  const unknown = names.filter((name) => !CLIPS.some((clip) => clip.name === name))
  if (unknown.length > 0)
    throw new Error(`There is no clip ${unknown.join(', ')}. There are ${CLIPS.map((c) => c.name).join(', ')}.`)
  return names.length === 0 ? CLIPS : CLIPS.filter((clip) => names.includes(clip.name))
}

async function writeAll(scenarios: Iterable<Scenario>, folder: string): Promise<void> {
  for (const scenario of scenarios) {
    const begunMs = performance.now()
    await writeClip(scenario, folder)
    console.log(`${scenario.name}: ${((performance.now() - begunMs) / 1000).toFixed(0)} s`)
  }
}
