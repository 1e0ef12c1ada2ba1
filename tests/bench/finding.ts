/**
 * `npm run bench:finding [-- [--draw N] [--seed S] [--out DIR] [CLIPS_DIR...]]`: planks found without marks, against the
 * truth beside the clips: found, wrong, how far off, how long it takes. Of the sample clips, clips by others where they
 * lie beside the checkout, and N freshly invented clips of each way of filming. Folders of clips may be named instead.
 */
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { chooseFfmpeg } from '../../main/film/engines/ffmpeg-choice.ts'
import { readBoardFile } from '../../main/files/board-file.ts'
import { readMarksFile } from '../../main/files/marks-file.ts'
import { probeClip } from '../../main/film/media/probe-clip.ts'
import { foundProposal, roughlyFound } from '../../main/services/proposing-found.ts'
import { writeClip } from '../../sample-clips/files/write-clip.ts'
import { clipsWithTruth, SAMPLE_FOLDER, SHARED_FOLDER } from '../accuracy/clips-with-truth.ts'
import { FILMED, findingScenario } from './finding-scenarios.ts'
import { type FindingScore, pointsOfMarks, scoreFinding, type TruePoints } from './finding-score.ts'

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { draw: { type: 'string' }, seed: { type: 'string', default: '1' }, out: { type: 'string' } },
})
const ffmpeg = await chooseFfmpeg()
const drawn = values.draw === undefined ? null : (values.out ?? mkdtempSync(join(tmpdir(), 'finding-')))
if (drawn !== null) await drawAll(drawn, Number(values.seed), Number(values.draw))
const named = positionals.length > 0 ? positionals : drawn === null ? [SAMPLE_FOLDER, SHARED_FOLDER] : []
for (const folder of [...named, ...(drawn === null ? [] : [drawn])]) await tell(folder)
if (drawn !== null && values.out === undefined) rmSync(drawn, { recursive: true })

async function drawAll(folder: string, seed: number, count: number): Promise<void> {
  for (let number = 1; number <= count; number++) {
    for (const filmed of FILMED) {
      const scenario = findingScenario(filmed, seed, number)
      if (!existsSync(join(folder, `${scenario.name}.mp4`))) await writeClip(scenario, folder)
    }
  }
}

async function tell(folder: string): Promise<void> {
  const scores: FindingScore[] = []
  for (const clip of await clipsWithTruth(folder)) {
    const score = await scoreOf(clip)
    scores.push(score)
    console.log(`  ${clip.name.padEnd(26)} ${inWords(score)}`)
  }
  const kinds = [...new Set(scores.map(({ kind }) => kind))]
  if (kinds.length > 1)
    for (const kind of kinds)
      console.log(
        row(
          kind,
          scores.filter((one) => one.kind === kind),
        ),
      )
  console.log(row(folder, scores))
}

type Clip = Awaited<ReturnType<typeof clipsWithTruth>>[number]

async function scoreOf({ name, clipPath, boardPath, marksPath, truth }: Clip): Promise<FindingScore> {
  const board = await readBoardFile(boardPath)
  if (!board.ok) throw new Error(board.message)
  const open = { clip: await probeClip(clipPath, ffmpeg), ffmpeg }
  const wanted = {
    path: clipPath,
    fileName: `${name}.mp4`,
    stretch: null,
    travel: null,
    slowMotionFactor: 1,
    board: board.value,
  }
  const begun = process.cpuUsage()
  const rough = await roughlyFound(open, wanted)
  const found = await foundProposal(open, wanted, rough)
  const proposal = typeof found === 'string' ? null : found
  const { user, system } = process.cpuUsage(begun)
  const { px: known } = truth.frames as unknown as { readonly px?: TruePoints }
  const marks = await readMarksFile(marksPath)
  if (!marks.ok) throw new Error(marks.message)
  const frameCount = open.clip.video.fileTimesS.length
  const px = known ?? pointsOfMarks(marks.value, frameCount, frameCount / 2)
  return scoreFinding(name, proposal?.marks ?? null, px, truth, (user + system) / 1e6, rough !== null)
}

function inWords({ outcome, worstPx, points, cpuS, isRough }: FindingScore): string {
  const off = worstPx === null ? '' : `, ${points} points, worst ${worstPx.toFixed(2)} px`
  const how = outcome === 'none' && isRough ? 'none (seen roughly)' : outcome
  return `${how}${off}, ${cpuS.toFixed(1)} s`
}

function row(what: string, scores: readonly FindingScore[]): string {
  const count = (outcome: FindingScore['outcome']) => scores.filter((one) => one.outcome === outcome).length
  const tips = scores.filter((one) => one.lands).length
  const offs = scores.flatMap(({ offsPx }) => offsPx).sort((a, b) => a - b)
  const at = (share: number) => (offs[Math.ceil(share * offs.length) - 1] ?? NaN).toFixed(2)
  const times = scores.map(({ cpuS }) => cpuS).sort((a, b) => a - b)
  return (
    `${what}: ${scores.length} clips, ${tips} of a board that lands; found ${count('found')}, in part ${count('part')}, ` +
    `none ${count('none')}, WRONG ${count('wrong')}; off by ${at(0.5)} px (median), ${at(0.9)} (90 %), ${at(1)} (most); ` +
    `${(times[times.length >> 1] ?? NaN).toFixed(1)} s of processor time (median), ${(times.at(-1) ?? NaN).toFixed(1)} at most`
  )
}
