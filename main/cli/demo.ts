import { join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import { findSampleClips, type SampleClip } from '../files/sample-clips.ts'
import { measureClip } from '../measuring/measure-clip.ts'
import { findMarks } from '../services/finding-marks.ts'
import { measureDrops } from '../measuring/measure-drops.ts'
import { cancelledByUser } from './cancelling.ts'
import { type CommandEnd, exitCodes } from './command.ts'
import { droptestCommand } from './droptest-command.ts'
import { harmless, harmlessLine } from './harmless-text.ts'
import { measureCommand } from './measure-command.ts'
import { ProgressLine } from './progress-line.ts'
import { reportCommand } from './report-command.ts'
import { showcheckCommand } from './showcheck-command.ts'

/** Measures the sample clips and reports on the invented season, into out/demo; says what came out and where it is. */
const root = fileURLToPath(new URL('../../', import.meta.url))
const progress = new ProgressLine(process.stderr, false)
const tools = {
  measureClip,
  measureDrops,
  findMarks,
  signal: cancelledByUser(),
  onProgress: progress.update,
  remark: (line: string) => console.error(line),
}

const clips = await findSampleClips(join(root, 'sample-clips'))
let exitCode: number = clips.length > 0 ? exitCodes.measured : exitCodes.wrongUsage
if (clips.length === 0) console.error('sample-clips holds no clips: get the whole project again.')
for (const clip of clips) {
  const end = await measureSample(clip)
  progress.clear()
  console.log(`\n${clip.name}`)
  for (const line of end.lines)
    console.log(`  ${harmless(line.startsWith(root) ? relative(process.cwd(), line) : line)}`)
  if (end.complaint !== null) console.log(`  ${harmlessLine(end.complaint)}`)
  if (end.exitCode !== exitCodes.measured) exitCode = end.exitCode
  if (end.exitCode === exitCodes.cancelled) break
}
if (exitCode !== exitCodes.cancelled) await reportSeason()
process.exit(exitCode)

/** Three invented dogs over a season: each one's report, and whether it would wait on a board at a show. */
async function reportSeason(): Promise<void> {
  const ridesPath = join(root, 'sample-clips', 'season', 'rides.json')
  for (const dog of ['Dottie', 'Kestrel', 'Biscuit']) {
    const outDir = join(root, 'out', 'demo', dog.toLowerCase())
    const ends = [
      await reportCommand({ kind: 'report', dog, ridesPath, outDir }),
      await showcheckCommand({ kind: 'showcheck', dog, dropTimeS: 0.7, rules: 'uk', ridesPath, outDir }),
    ]
    console.log(`\n${dog}, an invented season`)
    for (const end of ends) {
      for (const line of end.lines) console.log(`  ${line.startsWith(root) ? relative(process.cwd(), line) : line}`)
      if (end.complaint !== null) console.log(`  ${end.complaint}`)
      if (end.exitCode !== exitCodes.measured) exitCode = end.exitCode
    }
  }
  console.log('\nThe same season in the window: npm start, then “Open the invented season” on the start screen.')
}

async function measureSample({ name, clipPath, marksPath, boardPath, weight }: SampleClip): Promise<CommandEnd> {
  const common = { boardPath, outDir: join(root, 'out', 'demo', name), pdf: true, progress: false }
  try {
    return weight === null
      ? await measureCommand({ ...common, kind: 'measure', clipPath, marksPath, overlay: true }, tools)
      : await droptestCommand({ ...common, kind: 'droptest', drops: [{ clipPath, marksPath, ...weight }] }, tools)
  } catch (error) {
    if (!tools.signal.aborted) throw error
    return { exitCode: exitCodes.cancelled, lines: [], complaint: 'Cancelled.' }
  }
}
