import { spawn } from 'node:child_process'
import { pipeline } from 'node:stream/promises'
import { OutputProblem } from '../../files/output-folder.ts'
import { guardedInputArgs } from '../../film/media/ffmpeg-run.ts'
import type { MediaFfmpeg, ProbedClip } from '../../film/media/probed-clip.ts'
import { filmEncoder, NoFilmEncoder } from './film-encoder.ts'

export interface FilmJob {
  readonly clip: ProbedClip
  readonly ffmpeg: MediaFfmpeg
  readonly signal: AbortSignal
  /** What is being written, for sentences: "The overlay". */
  readonly what: string
  /** The part of the clip's own sound that goes with it, s of the file's time; null: a silent film. */
  readonly sound: { readonly fromFileS: number; readonly lengthS: number } | null
  /** Frames between those that stand alone, so that players can step; the encoder's own choice if absent. */
  readonly keyEvery?: number
}

/**
 * Writes pictures as an H.264 MP4, each at its own time. Nothing of the clip's tags goes along: neither where nor when
 * nor with what it was filmed.
 *
 * @param film a Matroska stream of pictures
 * @param path is overwritten; on failure it may hold a part of the film
 */
export async function encodeFilm(job: FilmJob, film: AsyncIterable<Buffer>, path: string): Promise<void> {
  const { ffmpeg, signal } = job
  const encoder = spawn(ffmpeg.ffmpegPath, await encodeArgs(job, path), {
    stdio: ['pipe', 'ignore', 'pipe'],
    windowsHide: true,
  })
  let said = ''
  encoder.stderr.setEncoding('utf8').on('data', (text: string) => (said = (said + text).slice(-2000)))
  const ended = new Promise<string | null>((resolve) => {
    encoder.on('error', (error) => resolve(error.message))
    encoder.on('close', (exitCode) => resolve(exitCode === 0 ? null : said.trim() || `exit code ${exitCode}`))
  })
  const stop = () => encoder.kill('SIGKILL')
  signal.addEventListener('abort', stop, { once: true })
  try {
    await pipeline(film, encoder.stdin, { signal }).catch((error: unknown) => {
      signal.throwIfAborted()
      // When the encoder gives up, its own words tell more than the broken pipe does.
      if (!isBrokenPipe(error)) throw error
    })
    const problem = await ended
    signal.throwIfAborted()
    if (problem !== null) throw filmProblem(job.what, problem)
  } finally {
    signal.removeEventListener('abort', stop)
    stop()
  }
}

/** What the encoder's last words mean for whoever waits for the film. */
function filmProblem(what: string, said: string): OutputProblem {
  if (/No space left on device/.test(said)) {
    return new OutputProblem(`${what}: the disk is full; make room there or give another folder`)
  }
  return new OutputProblem(`${what} could not be written (${said.split('\n').at(-1)?.trim()}): run the doctor command`)
}

function isBrokenPipe(error: unknown): boolean {
  const code = error instanceof Error && 'code' in error ? error.code : ''
  return code === 'EPIPE' || code === 'ECONNRESET' || code === 'ERR_STREAM_PREMATURE_CLOSE'
}

async function encoderArgs({ ffmpeg, what }: FilmJob): Promise<readonly string[]> {
  try {
    const { name, args } = await filmEncoder(ffmpeg.ffmpegPath)
    return ['-c:v', name, ...args, '-pix_fmt', 'yuv420p']
  } catch (error) {
    if (error instanceof NoFilmEncoder) throw new OutputProblem(`${what} could not be written. ${error.message}`)
    throw error
  }
}

async function encodeArgs(job: FilmJob, path: string): Promise<string[]> {
  const { clip, ffmpeg, sound, keyEvery } = job
  const film = [
    ...['-hide_banner', '-loglevel', 'error', '-y'],
    ...['-protocol_whitelist', 'pipe', '-f', 'matroska', '-i', 'pipe:0'],
  ]
  const video = [...(await encoderArgs(job)), ...(keyEvery === undefined ? [] : ['-g', String(keyEvery)])]
  // Frames keep their own times, to a ninety-thousandth of a second.
  const timing = [...ffmpeg.features.passthroughArgs, '-enc_time_base', '1:90000', '-video_track_timescale', '90000']
  const file = ['-map_metadata', '-1', '-map_chapters', '-1', '-movflags', '+faststart', '-f', 'mp4', `file:${path}`]
  if (clip.sound === null || sound === null) return [...film, '-map', '0:v', ...video, ...timing, ...file]
  const input = guardedInputArgs({ path: clip.path, format: clip.format })
  const skipS = sound.fromFileS - clip.sound.startFileS
  const aligned = [
    'asetpts=PTS-STARTPTS',
    `atrim=start=${Math.max(skipS, 0).toFixed(6)}:end=${(skipS + sound.lengthS).toFixed(6)}`,
    'asetpts=PTS-STARTPTS',
    ...(skipS < 0 ? [`adelay=${(-skipS * 1000).toFixed(0)}|${(-skipS * 1000).toFixed(0)}`] : []),
  ].join()
  const audio = ['-filter:a', aligned, '-ac', '2', '-c:a', 'aac', '-b:a', '128k']
  const streams = ['-map', '0:v', '-map', `1:${clip.sound.streamIndex}`]
  return [...film, ...input, ...streams, ...video, ...timing, ...audio, ...file]
}
