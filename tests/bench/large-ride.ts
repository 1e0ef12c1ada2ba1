import { copyFile, mkdir, readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { JobState } from '../../main/contract/jobs.ts'
import type { Outcome } from '../../main/contract/outcome.ts'
import { chooseFfmpeg } from '../../main/film/engines/ffmpeg-choice.ts'
import { runProgram } from '../../main/film/engines/run-program.ts'
import { openServices, type Services } from '../../main/services/services.ts'
import { forkWorkerProcess } from '../../main/services/worker-process.ts'

const SAMPLES = join(import.meta.dirname, '../../sample-clips/clips')
const NAME = 'wren-hold'
const ENLARGED = 2

interface MarksJson {
  readonly frames: readonly { readonly frame: number; readonly points: Readonly<Record<string, readonly number[]>> }[]
}

/** A sample clip as 1080p60, measured, with its pictures prepared, in a new library below `folder`; gives the library. */
export async function libraryWithLargeRide(folder: string): Promise<string> {
  const samplesFolder = join(folder, 'samples')
  const libraryFolder = join(folder, 'library')
  await mkdir(samplesFolder)
  await enlarge(samplesFolder)
  const services = valueOf(await openServices({ samplesFolder, libraryFolder, startWorkerProcess: forkWorkerProcess }))
  try {
    const { card } = valueOf(await services.handlers['samples.takeIn']({ name: NAME }))
    await measured(services, card.id)
    await prepared(services, card.id)
  } finally {
    await services.close()
  }
  return libraryFolder
}

/** Twice as wide, high and fast, with a little noise so that pictures compress as badly as filmed ones. */
async function enlarge(into: string): Promise<void> {
  const { ffmpegPath } = await chooseFfmpeg()
  const look = ['-vf', 'scale=1920:1080:flags=bicubic,fps=60,noise=alls=6:allf=t']
  const encode = ['-c:v', 'libx264', '-preset', 'veryfast', '-crf', '22', '-pix_fmt', 'yuv420p', '-c:a', 'copy']
  const files = ['-i', join(SAMPLES, `${NAME}.mp4`), ...look, ...encode, join(into, `${NAME}.mp4`)]
  const run = await runProgram(ffmpegPath, ['-y', '-loglevel', 'error', ...files], Buffer.alloc(0), 300_000)
  if (run.kind !== 'ended' || run.exitCode !== 0) throw new Error(JSON.stringify(run))
  await copyFile(join(SAMPLES, `${NAME}.board.json`), join(into, `${NAME}.board.json`))
  const marks = JSON.parse(await readFile(join(SAMPLES, `${NAME}.marks.json`), 'utf8')) as MarksJson
  const frames = marks.frames.map((one) => ({
    ...one,
    frame: one.frame * ENLARGED,
    points: Object.fromEntries(Object.entries(one.points).map(([name, at]) => [name, at.map((px) => px * ENLARGED)])),
  }))
  await writeFile(join(into, `${NAME}.marks.json`), JSON.stringify({ ...marks, frames }))
}

function measured(services: Services, clipId: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const see = (state: JobState): void => {
      if (state.kind === 'done') resolve()
      if (state.kind === 'failed' || state.kind === 'stopped') reject(new Error(JSON.stringify(state)))
    }
    services.onHappening((happening) => {
      if (happening.kind === 'job') see(happening.job.state)
    })
    services.handlers['measuring.start']({ clipId }).then(valueOf, reject)
  })
}

function prepared(services: Services, clipId: string): Promise<void> {
  return new Promise((resolve, reject) => {
    services.onHappening((happening) => {
      if (happening.kind === 'pictures' && happening.framesDone === happening.framesTotal) resolve()
    })
    services.handlers['clips.preparePictures']({ clipId }).then(valueOf, reject)
  })
}

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.error.message)
  return outcome.value
}
