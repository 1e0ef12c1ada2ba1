/**
 * `npm run bench:speed`: wall time of measuring as a ratio to ffmpeg decoding the same clip at the same size to nothing,
 * through a pipe to a reader that throws it away. Draws its clip once into `out/long`, keeps the run in
 * `tests/accuracy/speed.json` and writes README.md's part on speed. Nothing else should run on the machine.
 */
import { execFile, spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { availableParallelism, tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { viewFor } from '../../analysis/clip/view.ts'
import { median } from '../../analysis/numeric/robust.ts'
import { readBoardFile } from '../../main/files/board-file.ts'
import { readMarksFile } from '../../main/files/marks-file.ts'
import { chooseFfmpeg } from '../../main/film/engines/ffmpeg-choice.ts'
import { probeClip } from '../../main/film/media/probe-clip.ts'
import { measureClip } from '../../main/measuring/measure-clip.ts'
import { writeLongClip } from '../../sample-clips/long-clip.ts'
import { withMarkedPart } from '../accuracy/marked-part.ts'
import { type SpeedOfClip, readSpeed, speedInWords, writeSpeed } from '../accuracy/speed-record.ts'

const ROOT = join(import.meta.dirname, '../..')
const README = join(ROOT, 'README.md')
const LONG = join(ROOT, 'out/long')
const SHORT_S = 7
const RUNS = 3
/** As wide as the plank is looked at, px. */
const PLANK_PX = 820

const path = (name: string) => join(LONG, `long${name}`)
if (!existsSync(path('.truth.json'))) await writeLongClip(LONG)
const ffmpeg = await chooseFfmpeg()
const short = path('-short.mp4')
await promisify(execFile)(ffmpeg.ffmpegPath, [
  '-y',
  '-v',
  'error',
  '-i',
  path('.mp4'),
  '-t',
  `${SHORT_S}`,
  '-c',
  'copy',
  short,
])
const marks = await readMarksFile(path('.marks.json'))
const board = await readBoardFile(path('.board.json'))
if (!marks.ok || !board.ok) throw new Error('marks or board cannot be read')
const known = { marks: marks.value, board: board.value }

const long = await medians(path('.mp4'), measureHere)
const followedWhole = await medians(short, measureAnew)
await writeSpeed({
  measuredOn: new Date().toISOString().slice(0, 10),
  cores: availableParallelism(),
  long,
  short: { ...followedWhole, lengthS: SHORT_S },
})
const page = await readFile(README, 'utf8')
await writeFile(README, withMarkedPart(page, 'speed', speedInWords(readSpeed())))
console.log(speedInWords(readSpeed()))

type Measured = Pick<SpeedOfClip, 'rides' | 'peakMb'>

async function medians(clipPath: string, measure: (clipPath: string) => Promise<Measured>): Promise<SpeedOfClip> {
  const runs: SpeedOfClip[] = []
  for (let run = 0; run < RUNS; run++) {
    const decodeS = await decode(clipPath)
    const beganMs = performance.now()
    const measured = await measure(clipPath)
    const measureS = (performance.now() - beganMs) / 1000
    runs.push({ decodeS, measureS, ratio: measureS / decodeS, ...measured })
    console.log(`decode ${decodeS.toFixed(2)} s, measure ${measureS.toFixed(2)} s, rides ${measured.rides}`)
  }
  const middle = (of: (run: SpeedOfClip) => number) => median(runs.map(of))
  return {
    decodeS: middle((run) => run.decodeS),
    measureS: middle((run) => run.measureS),
    ratio: middle((run) => run.ratio),
    rides: Math.min(...runs.map(({ rides }) => rides)),
    peakMb: runs.some(({ peakMb }) => peakMb === null) ? null : Math.max(...runs.map(({ peakMb }) => peakMb ?? 0)),
  }
}

async function measureHere(clipPath: string): Promise<Measured> {
  let peakMb = 0
  const watch = setInterval(() => (peakMb = Math.max(peakMb, process.memoryUsage().rss / 2 ** 20)), 100)
  const outcome = await measureClip({
    ...{ clipPath, ...known },
    ...{ signal: new AbortController().signal, onProgress: () => undefined },
  })
  clearInterval(watch)
  if (outcome.kind !== 'measured') throw new Error(outcome.detail)
  return { rides: outcome.rides.length, peakMb }
}

/** As a command of its own, started and ended. */
async function measureAnew(clipPath: string): Promise<Measured> {
  const out = await mkdtemp(join(tmpdir(), 'tiphold-speed-'))
  const program = [join(ROOT, 'node_modules/tsx/dist/cli.mjs'), join(ROOT, 'main/cli/tiphold.ts')]
  const files = ['--marks', path('.marks.json'), '--board', path('.board.json'), '--out', out]
  const child = spawn(process.execPath, [...program, 'measure', clipPath, ...files], {
    stdio: ['ignore', 'ignore', 'inherit'],
  })
  const code = await new Promise<number | null>((resolve, reject) => {
    child.on('error', reject)
    child.on('close', resolve)
  })
  const rides = (await readdir(out)).filter((name) => /^ride(-\d+)?\.json$/.test(name)).length
  await rm(out, { recursive: true, force: true })
  if (code !== 0) throw new Error(`tiphold measure ended with ${code}`)
  return { rides, peakMb: null }
}

async function decode(clipPath: string): Promise<number> {
  const { video } = await probeClip(clipPath, ffmpeg)
  const { rest } = known.marks
  const plankPx = Math.hypot(rest.exitEnd.xPx - rest.entryEnd.xPx, rest.exitEnd.yPx - rest.entryEnd.yPx)
  const { widthPx, heightPx } = viewFor(video, undefined, Math.min(1, PLANK_PX / plankPx))
  const scale = ['-vf', `scale=${widthPx}:${heightPx}`, '-pix_fmt', 'yuv420p', '-f', 'rawvideo', '-']
  const beganMs = performance.now()
  const child = spawn(ffmpeg.ffmpegPath, ['-v', 'error', '-i', clipPath, ...scale], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  child.stdout.resume()
  return new Promise((resolve, reject) => {
    child.on('error', reject)
    child.on('close', () => resolve((performance.now() - beganMs) / 1000))
  })
}
