/**
 * `npm run bench:speed -- CLIP MARKS BOARD`: wall time of a measure as a ratio to ffmpeg decoding the same clip at the
 * same size to nothing, through a pipe to a reader that throws it away. Make a clip with `npm run samples -- --long`.
 */
import { spawn } from 'node:child_process'
import { viewFor } from '../../analysis/clip/view.ts'
import { chooseFfmpeg } from '../../main/film/engines/ffmpeg-choice.ts'
import { readBoardFile } from '../../main/files/board-file.ts'
import { readMarksFile } from '../../main/files/marks-file.ts'
import { measureClip } from '../../main/measuring/measure-clip.ts'
import { probeClip } from '../../main/film/media/probe-clip.ts'

const [clipPath, marksPath, boardPath] = process.argv.slice(2)
if (clipPath === undefined || marksPath === undefined || boardPath === undefined) {
  console.error('usage: npm run bench:speed -- CLIP MARKS.json BOARD.json')
  process.exit(2)
}
const marks = await readMarksFile(marksPath)
const board = await readBoardFile(boardPath)
if (!marks.ok || !board.ok) throw new Error('marks or board cannot be read')

const startS = performance.now() / 1000
const ffmpeg = await chooseFfmpeg()
const clip = await probeClip(clipPath, ffmpeg)
const openedS = performance.now() / 1000 - startS
const { rest } = marks.value
const plankPx = Math.hypot(rest.exitEnd.xPx - rest.entryEnd.xPx, rest.exitEnd.yPx - rest.entryEnd.yPx)
const view = viewFor(clip.video, undefined, Math.min(1, 820 / plankPx))

const decodeS = await decode(ffmpeg.ffmpegPath, clipPath, view.widthPx, view.heightPx)
const beganS = performance.now() / 1000
let peakMb = 0
const watch = setInterval(() => (peakMb = Math.max(peakMb, process.memoryUsage().rss / 2 ** 20)), 100)
const outcome = await measureClip({
  clipPath,
  marks: marks.value,
  board: board.value,
  signal: new AbortController().signal,
  onProgress: () => undefined,
})
clearInterval(watch)
const measureS = performance.now() / 1000 - beganS
console.log(`clip: ${clip.video.fileTimesS.length} frames, ${clip.video.widthPx} x ${clip.video.heightPx}`)
console.log(`choosing ffmpeg and reading the index: ${openedS.toFixed(2)} s`)
console.log(`plain decode at ${view.widthPx} x ${view.heightPx}: ${decodeS.toFixed(2)} s`)
console.log(`measure: ${measureS.toFixed(2)} s, ratio ${(measureS / decodeS).toFixed(2)}`)
console.log(`peak memory of the measuring process, without ffmpeg: ${peakMb.toFixed(0)} MB`)
console.log(outcome.kind === 'measured' ? `rides: ${outcome.rides.length}` : outcome.detail)

function decode(path: string, file: string, widthPx: number, heightPx: number): Promise<number> {
  const from = performance.now()
  const scale = `scale=${widthPx}:${heightPx}`
  const child = spawn(path, ['-v', 'error', '-i', file, '-vf', scale, '-pix_fmt', 'yuv420p', '-f', 'rawvideo', '-'], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  child.stdout.resume()
  return new Promise((resolve, reject) => {
    child.on('error', reject)
    child.on('close', () => resolve((performance.now() - from) / 1000))
  })
}
