import { type ChildProcessByStdio, spawn } from 'node:child_process'
import type { Readable } from 'node:stream'
import { ClipProblem } from './clip-problem.ts'
import type { ContainerFormat } from './container-format.ts'

/** ffmpeg is given up when it has neither written nor said anything for so long while somebody waits for it. */
const STANDSTILL_MS = 60_000
/** Enough to say what went wrong; a damaged clip can complain about every frame. */
const KEPT_COMPLAINTS = 20

/** A file that ffmpeg may read, as what, and from where. */
export interface GuardedInput {
  readonly path: string
  readonly format: ContainerFormat
  /** Start decoding at the last key frame before this raw timestamp of the container, s. */
  readonly seekRawS?: number
  /** Options for the decoder, before `-i`. */
  readonly decoderArgs?: readonly string[]
}

/**
 * Arguments up to and with `-i`: one local file in one known format, no standard input, timestamps as the file has them.
 * A file in another format, or one that names further files or addresses, is refused by ffmpeg itself.
 */
export function guardedInputArgs(input: GuardedInput): string[] {
  const seek =
    input.seekRawS === undefined ? [] : ['-noaccurate_seek', '-seek_timestamp', '1', '-ss', input.seekRawS.toFixed(6)]
  return [
    ...['-hide_banner', '-nostdin', '-nostats', '-loglevel', 'level+info', '-copyts'],
    ...['-protocol_whitelist', 'file,pipe', '-format_whitelist', input.format, '-f', input.format],
    ...(input.decoderArgs ?? []),
    ...seek,
    ...['-i', `file:${input.path}`],
  ]
}

/** A running ffmpeg: its standard output is read by whoever started it. */
export interface FfmpegRun {
  readonly stdout: Readable
  /** Settles when ffmpeg is gone and all it wrote has been read. Never rejects. */
  readonly ended: Promise<FfmpegEnd>
  /** Ends ffmpeg at once. */
  stop(): void
  /** Tell that output has come, or that nobody waits for any right now. */
  setWaiting(waiting: boolean): void
}

export interface FfmpegEnd {
  readonly exitCode: number | null
  /** The first lines that ffmpeg marked as errors. */
  readonly complaints: readonly string[]
  /** Set when ffmpeg could not be started or stood still. */
  readonly problem: ClipProblem | null
}

/** Starts ffmpeg without a shell. Each line it says goes to `onLine`, with its level in brackets: `[info] 0.040000`. */
export function startFfmpeg(ffmpegPath: string, args: readonly string[], onLine: (line: string) => void): FfmpegRun {
  const child: ChildProcessByStdio<null, Readable, Readable> = spawn(ffmpegPath, args, {
    stdio: ['ignore', 'pipe', 'pipe'],
    windowsHide: true,
  })
  const complaints: string[] = []
  let problem: ClipProblem | null = null
  let waiting = true
  let timer = setTimeout(standstill, STANDSTILL_MS)

  function standstill(): void {
    problem = new ClipProblem(
      'too-slow',
      `Reading stood still for ${STANDSTILL_MS / 1000} s and was given up: try again, or copy the clip to a disk of this computer.`,
    )
    child.kill('SIGKILL')
  }
  function setWaiting(now: boolean): void {
    clearTimeout(timer)
    waiting = now
    if (waiting) timer = setTimeout(standstill, STANDSTILL_MS)
  }

  splitLines(child.stderr, (line) => {
    if (waiting) timer.refresh()
    if (/\[(error|fatal|panic)\]/.test(line) && complaints.length < KEPT_COMPLAINTS) complaints.push(line)
    onLine(line)
  })
  const ended = new Promise<FfmpegEnd>((resolve) => {
    child.on('error', (error) => {
      clearTimeout(timer)
      problem = new ClipProblem(
        'cannot-decode',
        `ffmpeg could not be started (${error.message}): run the doctor command.`,
      )
      resolve({ exitCode: null, complaints, problem })
    })
    child.on('close', (exitCode) => {
      clearTimeout(timer)
      resolve({ exitCode, complaints, problem })
    })
  })
  return { stdout: child.stdout, ended, stop: () => void child.kill('SIGKILL'), setWaiting }
}

/** Runs ffmpeg to its end and hands on what it wrote, line by line or as a whole. */
export async function runFfmpeg(
  ffmpegPath: string,
  args: readonly string[],
  on: {
    readonly line?: (line: string) => void
    readonly output: (chunk: Buffer) => void
    readonly signal?: AbortSignal | undefined
  },
): Promise<FfmpegEnd> {
  on.signal?.throwIfAborted()
  const run = startFfmpeg(ffmpegPath, args, on.line ?? (() => undefined))
  on.signal?.addEventListener('abort', run.stop, { once: true })
  run.stdout.on('data', (chunk: Buffer) => {
    run.setWaiting(true)
    on.output(chunk)
  })
  const end = await run.ended
  on.signal?.removeEventListener('abort', run.stop)
  on.signal?.throwIfAborted()
  return end
}

/** Calls `onLine` for each line of a text stream, also for the last one without a line break. */
function splitLines(stream: Readable, onLine: (line: string) => void): void {
  let rest = ''
  stream.setEncoding('utf8')
  stream.on('data', (text: string) => {
    const lines = (rest + text).split(/\r?\n/)
    rest = lines.pop() ?? ''
    lines.forEach(onLine)
  })
  stream.on('end', () => {
    if (rest !== '') onLine(rest)
  })
}
