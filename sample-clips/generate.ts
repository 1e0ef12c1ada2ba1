import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { CLIPS } from './clip-list.ts'
import { writeClip } from './files/write-clip.ts'
import type { Scenario } from './scenario.ts'

const USAGE = `Draws clips of seesaw rides and drop tests, with their truth.
  npm run samples [-- NAME...]                            the clips of the repository, or some of them
  npm run samples -- --random N [--seed S] --out DIR      N invented rides and drop tests
  npm run samples -- --long --out DIR                     a minute of 1080p60 with two rides`

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    out: { type: 'string' },
    help: { type: 'boolean', default: false },
  },
})

if (values.help) console.log(USAGE)
else await writeAll(chosen(positionals), values.out ?? join(import.meta.dirname, 'clips'))

function chosen(names: readonly string[]): readonly Scenario[] {
  const unknown = names.filter((name) => !CLIPS.some((clip) => clip.name === name))
  if (unknown.length > 0)
    throw new Error(`There is no clip ${unknown.join(', ')}. There are ${CLIPS.map((c) => c.name).join(', ')}.`)
  return names.length === 0 ? CLIPS : CLIPS.filter((clip) => names.includes(clip.name))
}

async function writeAll(scenarios: readonly Scenario[], folder: string): Promise<void> {
  for (const scenario of scenarios) {
    const begunMs = performance.now()
    await writeClip(scenario, folder)
    console.log(`${scenario.name}: ${((performance.now() - begunMs) / 1000).toFixed(0)} s`)
  }
}
