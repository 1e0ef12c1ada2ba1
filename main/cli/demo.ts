import { join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import { findSampleClips, type SampleClip } from '../files/sample-clips.ts'
import { measureClip } from '../measuring/measure-clip.ts'
import { measureDrops } from '../measuring/measure-drops.ts'
import { cancelledByUser } from './cancelling.ts'
import { type CommandEnd, exitCodes } from './command.ts'
import { droptestCommand } from './droptest-command.ts'
import { harmless, harmlessLine } from './harmless-text.ts'
import { measureCommand } from './measure-command.ts'
import { ProgressLine } from './progress-line.ts'

/** Measures the sample clips into out/demo and says what came out and where the reports are. */
const root = fileURLToPath(new URL('../../', import.meta.url))
const progress = new ProgressLine(process.stderr, false)
const tools = {
  measureClip,
  measureDrops,
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
process.exit(exitCode)

async function measureSample({ name, clipPath, marksPath, boardPath, weight }: SampleClip): Promise<CommandEnd> {
  const common = { boardPath, outDir: join(root, 'out', 'demo', name), progress: false }
  try {
    return weight === null
      ? await measureCommand({ ...common, kind: 'measure', clipPath, marksPath, overlay: true }, tools)
      : await droptestCommand({ ...common, kind: 'droptest', drops: [{ clipPath, marksPath, ...weight }] }, tools)
  } catch (error) {
    if (!tools.signal.aborted) throw error
    return { exitCode: exitCodes.cancelled, lines: [], complaint: 'Cancelled.' }
  }
}
