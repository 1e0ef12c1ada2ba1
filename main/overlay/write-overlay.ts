import { spawn } from 'node:child_process'
import { pipeline } from 'node:stream/promises'
import { type Frame, type View } from '../../analysis/clip/frame.ts'
import { viewFor } from '../../analysis/clip/view.ts'
import type { Estimate } from '../../analysis/estimate.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import { OutputProblem } from '../files/output-folder.ts'
import type { MeasuredRide, OnProgress, RidePicture } from '../measuring/measured-ride.ts'
import { guardedInputArgs } from '../media/ffmpeg-run.ts'
import type { MediaFfmpeg, ProbedClip } from '../media/probed-clip.ts'
import { streamFrames } from '../media/stream-frames.ts'
import { fixed } from '../../analysis/words/in-words.ts'
import { frameDrawing } from '../../analysis/drawing/frame-drawing.ts'
import { matroskaHead, matroskaPicture } from './matroska.ts'
import { inksFor, paintCaption, paintDrawing } from './paint-drawing.ts'

/** The longer side of an overlay at most, px. */
const longestPx = 1280
/** How long the word of an event stays in the caption, s of real time. */
const wordStaysS = 0.6

export interface OverlaySource {
  readonly clip: ProbedClip
  readonly ffmpeg: MediaFfmpeg
  readonly signal: AbortSignal
  readonly onProgress: OnProgress
}

/**
 * Writes the ride's part of the clip as an H.264 MP4 with the tracking drawn on each frame: every frame at its own
 * time, at the clip's own pace, with the clip's sound.
 *
 * @param path is overwritten; on failure it may hold a part of the film
 */
export async function writeOverlay(source: OverlaySource, measured: MeasuredRide, path: string): Promise<void> {
  const { clip, ffmpeg, signal } = source
  const { picture, ride } = measured
  const factor = ride.clip.slowMotionFactor
  const view = viewFor(clip.video, undefined, longestPx / Math.max(clip.video.widthPx, clip.video.heightPx))
  const fromFileS = (picture.ptsS[0] ?? 0) * factor
  const lengthS = (picture.ptsS.at(-1) ?? 0) * factor - fromFileS
  const encoder = spawn(ffmpeg.ffmpegPath, encodeArgs(source, fromFileS, lengthS, path), {
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
    await pipeline(overlayFilm(source, measured, view, fromFileS), encoder.stdin, { signal }).catch(
      (error: unknown) => {
        signal.throwIfAborted()
        // When the encoder gives up, its own words tell more than the broken pipe does.
        if (!isBrokenPipe(error)) throw error
      },
    )
    const problem = await ended
    signal.throwIfAborted()
    if (problem !== null) throw overlayProblem(problem)
  } finally {
    signal.removeEventListener('abort', stop)
    stop()
  }
}

/** What the encoder's last words mean for whoever waits for the film. */
function overlayProblem(said: string): OutputProblem {
  if (/No space left on device/.test(said)) {
    return new OutputProblem('The overlay: the disk is full; make room there or give another folder')
  }
  return new OutputProblem(
    `The overlay could not be written (${said.split('\n').at(-1)?.trim()}): run the doctor command`,
  )
}

function isBrokenPipe(error: unknown): boolean {
  const code = error instanceof Error && 'code' in error ? error.code : ''
  return code === 'EPIPE' || code === 'ECONNRESET' || code === 'ERR_STREAM_PREMATURE_CLOSE'
}

/** The painted frames as a Matroska stream; its time 0 is the ride's first frame. */
async function* overlayFilm(
  { clip, ffmpeg, signal, onProgress }: OverlaySource,
  { ride, picture }: MeasuredRide,
  view: View,
  fromFileS: number,
): AsyncGenerator<Buffer> {
  const factor = ride.clip.slowMotionFactor
  const inks = inksFor(Math.max(clip.video.widthPx, clip.video.heightPx) >= longestPx)
  const elementOf = new Map([...picture.frameIndex].map((index, k) => [index, k]))
  const [fromS, toS] = [picture.ptsS[0] ?? 0, picture.ptsS.at(-1) ?? 0]
  const request = { fromS, toS, slowMotionFactor: factor, view, signal }
  let framesDone = 0
  let last = { timeS: 0, stepS: 0, planes: [] as readonly Uint8Array[] }
  yield matroskaHead(view.widthPx, view.heightPx)
  for await (const frame of streamFrames(clip, ffmpeg, request)) {
    const k = elementOf.get(frame.index)
    const drawing = k === undefined ? null : frameDrawing(picture, k, ride.footfalls)
    if (drawing !== null) paintDrawing(frame, drawing, inks)
    paintCaption(frame, caption(frame, ride, picture, k), inks)
    const timeS = Math.max(frame.ptsS * factor - fromFileS, 0)
    last = { timeS, stepS: timeS - last.timeS, planes: [frame.y.slice(), frame.u.slice(), frame.v.slice()] }
    yield matroskaPicture(timeS, last.planes)
    framesDone++
    onProgress({ doing: 'drawing the overlay', framesDone, framesTotal: picture.ptsS.length })
  }
  // The last picture of an MP4 has no length of its own and players cut it off: show it once more.
  if (framesDone > 0) yield matroskaPicture(last.timeS + last.stepS, last.planes)
}

function caption(frame: Frame, ride: Ride, picture: RidePicture, k: number | undefined): string {
  const angleRad = k === undefined ? NaN : (picture.angleRad[k] ?? NaN)
  const board = Number.isNaN(angleRad) ? [] : [`board ${fixed((angleRad * 180) / Math.PI, 1)}°`]
  const word = wordAt(ride, frame.ptsS)
  return [`${fixed(frame.ptsS, 3)} s`, `frame ${frame.index}`, ...board, ...(word === null ? [] : [word])].join('   ')
}

function wordAt(ride: Ride, atS: number): string | null {
  const { firstOn, tipStart, grounded, left } = ride.events
  const words: readonly (readonly [string, Estimate])[] = [
    ['off', left],
    ['landed', grounded],
    ['tip', tipStart],
    ['on', firstOn],
  ]
  const happened = ([, event]: readonly [string, Estimate]) =>
    event.kind === 'measured' && atS >= event.value && atS < event.value + wordStaysS
  return words.find(happened)?.[0] ?? null
}

function encodeArgs({ clip, ffmpeg }: OverlaySource, fromFileS: number, lengthS: number, path: string): string[] {
  const { sound } = clip
  const film = [
    '-hide_banner',
    '-loglevel',
    'error',
    '-y',
    '-protocol_whitelist',
    'pipe',
    '-f',
    'matroska',
    '-i',
    'pipe:0',
  ]
  const video = ['-c:v', 'libx264', '-bf', '0', '-preset', 'veryfast', '-crf', '20', '-pix_fmt', 'yuv420p']
  // Frames keep their own times, to a ninety-thousandth of a second.
  const timing = [...ffmpeg.features.passthroughArgs, '-enc_time_base', '1:90000', '-video_track_timescale', '90000']
  const file = ['-map_metadata', '-1', '-movflags', '+faststart', '-f', 'mp4', `file:${path}`]
  if (sound === null) return [...film, '-map', '0:v', ...video, ...timing, ...file]
  const input = guardedInputArgs({ path: clip.path, format: clip.format })
  const skipS = fromFileS - sound.startFileS
  const aligned = [
    'asetpts=PTS-STARTPTS',
    `atrim=start=${Math.max(skipS, 0).toFixed(6)}:end=${(skipS + lengthS).toFixed(6)}`,
    'asetpts=PTS-STARTPTS',
    ...(skipS < 0 ? [`adelay=${(-skipS * 1000).toFixed(0)}|${(-skipS * 1000).toFixed(0)}`] : []),
  ].join()
  const audio = ['-filter:a', aligned, '-ac', '2', '-c:a', 'aac', '-b:a', '128k']
  const streams = ['-map', '0:v', '-map', `1:${sound.streamIndex}`]
  return [...film, ...input, ...streams, ...video, ...timing, ...audio, ...file]
}
