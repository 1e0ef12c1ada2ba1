import { mkdtemp, rm } from 'node:fs/promises'
import { Agent, get } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { picturePath } from '../../main/contract/picture-paths.ts'
import type { Outcome } from '../../main/contract/outcome.ts'
import { viewPath, type Visit, visitOf } from '../../main/contract/visit.ts'
import { chooseFfmpeg } from '../../main/film/engines/ffmpeg-choice.ts'
import { runProgram } from '../../main/film/engines/run-program.ts'
import { openLoopbackHost } from '../../main/hosts/loopback/loopback-host.ts'
import { openServices } from '../../main/services/services.ts'
import { forkWorkerProcess } from '../../main/services/worker-process.ts'

/**
 * How long a step from frame to frame takes in a 1080p60 clip, through the loopback host: prepared, and before. Then
 * many thousand steps, as an hour of stepping makes, and what they leave in memory.
 *
 * `npm run bench:frames -- [seconds of the clip] [thousands of steps]`
 */
const clipS = Number(process.argv[2] ?? 10)
const thousands = Number(process.argv[3] ?? 20)

const folder = await mkdtemp(join(tmpdir(), 'frame-step-'))
const clipPath = join(folder, 'noisy.mp4')
await makeClip()
const services = valueOf(
  await openServices({
    libraryFolder: join(folder, 'library'),
    samplesFolder: folder,
    startWorkerProcess: forkWorkerProcess,
  }),
)
const host = await openLoopbackHost({ services, windowFolder: folder, log: (line) => console.error(line) })
const agent = new Agent({ keepAlive: true })
const { viewKey } = await visit()

const { fileId } = valueOf(await services.files.register(clipPath))
const clip = valueOf(await services.handlers['clips.takeIn']({ fileId }))
const frames = clip.facts.frameCount
console.log(
  `${clip.facts.widthPx} x ${clip.facts.heightPx}, ${frames} frames, ${clip.facts.averageRateHz.toFixed(1)} a second`,
)

print('not prepared, each step', await walk(60, (k) => 100 + k))
const startedMs = performance.now()
await prepared()
const tookS = (performance.now() - startedMs) / 1000
console.log(`prepared in ${tookS.toFixed(1)} s, ${(frames / tookS).toFixed(0)} frames a second`)
print('forwards', await walk(frames, (k) => k))
print('backwards', await walk(frames, (k) => frames - 1 - k))
print('anywhere', await walk(frames, (k) => (k * 7919) % frames))

const beforeMiB = memoryMiB()
const long = await walk(1000 * thousands, (k) => Math.abs(((k * 3) % (2 * frames)) - frames) % frames)
print(`${thousands},000 steps`, long)
console.log(`memory before ${beforeMiB.toFixed(0)} MiB, after ${memoryMiB().toFixed(0)} MiB`)

agent.destroy()
await host.close()
await services.close()
await rm(folder, { recursive: true })

/** A picture that is as hard to compress as a filmed meadow. */
async function makeClip(): Promise<void> {
  const { ffmpegPath } = await chooseFfmpeg()
  const source = `testsrc2=s=1920x1080:r=60:d=${clipS},noise=alls=12:allf=t`
  const encode = ['-c:v', 'libx264', '-preset', 'veryfast', '-crf', '24', '-pix_fmt', 'yuv420p', '-g', '120']
  const args = ['-y', '-loglevel', 'error', '-f', 'lavfi', '-i', source, ...encode, clipPath]
  const run = await runProgram(ffmpegPath, args, Buffer.alloc(0), 300_000)
  if (run.kind !== 'ended' || run.exitCode !== 0) throw new Error(JSON.stringify(run))
}

function prepared(): Promise<void> {
  return new Promise((resolve, reject) => {
    const stop = services.onHappening((happening) => {
      if (happening.kind !== 'pictures' || happening.framesDone < happening.framesTotal) return
      stop()
      resolve()
    })
    services.handlers['clips.preparePictures']({ clipId: clip.card.id }).catch(reject)
  })
}

/** Fetches frames one after another; gives the times, ms. */
async function walk(steps: number, frameAt: (step: number) => number): Promise<Float64Array> {
  const tookMs = new Float64Array(steps)
  for (let k = 0; k < steps; k++) {
    const fromMs = performance.now()
    await fetchPicture(picturePath(clip.card.id, frameAt(k), 'frame'))
    tookMs[k] = performance.now() - fromMs
  }
  return tookMs
}

function fetchPicture(path: string): Promise<void> {
  return new Promise((resolve, reject) => {
    get(host.origin + viewPath(viewKey, path), { agent }, (reply) => {
      if (reply.statusCode !== 200) reject(new Error(`${path}: ${reply.statusCode}`))
      reply.on('data', () => undefined)
      reply.on('end', resolve)
    }).on('error', reject)
  })
}

function visit(): Promise<Visit> {
  return new Promise((resolve, reject) => {
    get(host.newAddress(), { agent }, (reply) => {
      reply.resume()
      const visit = visitOf(new URL(reply.headers.location ?? '', host.origin).hash)
      if (visit === null) reject(new Error('The first visit was refused.'))
      else resolve(visit)
    }).on('error', reject)
  })
}

function print(what: string, tookMs: Float64Array): void {
  const sorted = tookMs.slice().sort()
  const at = (share: number) =>
    (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN).toFixed(1)
  console.log(`${what}: median ${at(0.5)} ms, p95 ${at(0.95)} ms, slowest ${at(1)} ms`)
}

function memoryMiB(): number {
  return process.memoryUsage().rss / 2 ** 20
}

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}
