import type { Sound } from '../../../analysis/sound/sound.ts'
import { guardedInputArgs, runFfmpeg } from './ffmpeg-run.ts'
import type { MediaFfmpeg, ProbedClip } from './probed-clip.ts'

/** Decoders of sound need a moment after a jump before their output is right. */
const RUN_IN_S = 1
/** Sound above this rate tells no more about a landing, Hz of the file's own time. */
const HIGHEST_RATE_HZ = 48_000

/** Which part of the sound is wanted. */
export interface SoundRequest {
  /** s of real time, first video frame = 0; the whole track if absent. */
  readonly fromS?: number
  readonly toS?: number
  /** Capture rate / stored rate. Default 1. */
  readonly slowMotionFactor?: number
  readonly signal?: AbortSignal
}

/**
 * Decodes a stretch of the sound track to one channel, the mean of all. Every piece is put where its own timestamp says, so gaps become
 * silence and the start keeps its offset to the pictures.
 *
 * @returns null when the clip has no sound, none in this stretch, or none that this ffmpeg can decode
 */
export async function readSound(
  clip: ProbedClip,
  ffmpeg: MediaFfmpeg,
  request: SoundRequest = {},
): Promise<Sound | null> {
  const track = clip.sound
  if (track === null) return null
  const { signal, slowMotionFactor = 1 } = request
  const rateHz = Math.min(track.rateHz, HIGHEST_RATE_HZ)
  const zeroRawS = clip.video.firstRawS
  const fromRawS = zeroRawS + (request.fromS ?? -Infinity) * slowMotionFactor
  const toRawS = zeroRawS + (request.toS ?? Infinity) * slowMotionFactor
  const seek = fromRawS > zeroRawS + RUN_IN_S ? { seekRawS: fromRawS - RUN_IN_S } : {}
  const pieces: Piece[] = []
  const chunks: Buffer[] = []
  const args = [
    ...guardedInputArgs({ path: clip.path, format: clip.format, ...seek }),
    ...['-map', `0:${track.streamIndex}`, '-af', soundFilters(rateHz, toRawS).join()],
    ...['-c:a', 'pcm_f32le', '-f', 'f32le', 'pipe:1'],
  ]
  const end = await runFfmpeg(ffmpeg.ffmpegPath, args, {
    line: (line) => {
      const piece = pieceFrom(line)
      if (piece !== null) pieces.push(piece)
    },
    output: (chunk) => chunks.push(chunk),
    signal,
  })
  if (end.problem !== null) throw end.problem
  const line = evenLine(samplesFrom(Buffer.concat(chunks)), pieces, { rateHz, fromRawS, toRawS })
  if (line === null) return null
  return { samples: line.samples, rateHz, startS: (line.startRawS - zeroRawS) / slowMotionFactor, slowMotionFactor }
}

function soundFilters(rateHz: number, toRawS: number): string[] {
  const trim = Number.isFinite(toRawS) ? [`atrim=end=${toRawS.toFixed(6)}`] : []
  return [...trim, `aresample=${rateHz}`, 'aformat=sample_fmts=flt', 'ashowinfo']
}

/** A run of samples as ffmpeg logs it: where it starts, in samples since raw time 0, and how long it is. */
interface Piece {
  readonly startSamples: number
  readonly lengthSamples: number
  readonly channels: number
}

function pieceFrom(line: string): Piece | null {
  const match = /ashowinfo.* pts: *(-?\d+) .*channels:(\d+) .*nb_samples:(\d+)/.exec(line)
  if (match === null) return null
  return { startSamples: Number(match[1]), channels: Number(match[2]), lengthSamples: Number(match[3]) }
}

function samplesFrom(bytes: Buffer): Float32Array {
  const aligned = new Uint8Array(bytes.length - (bytes.length % 4))
  aligned.set(bytes.subarray(0, aligned.length))
  return new Float32Array(aligned.buffer)
}

interface Stretch {
  readonly rateHz: number
  readonly fromRawS: number
  readonly toRawS: number
}

/** Lays the pieces on one even time line, channels mixed, and cuts it to the stretch; null when nothing lies in it. */
function evenLine(
  samples: Float32Array,
  pieces: readonly Piece[],
  { rateHz, fromRawS, toRawS }: Stretch,
): { samples: Float32Array; startRawS: number } | null {
  const first = pieces[0]
  const last = pieces.at(-1)
  if (first === undefined || last === undefined) return null
  const start = Math.max(first.startSamples, Math.ceil(fromRawS * rateHz - 1e-6))
  const end = Math.min(last.startSamples + last.lengthSamples, Math.floor(toRawS * rateHz + 1e-6) + 1)
  if (end <= start) return null
  const line = new Float32Array(end - start)
  let read = 0
  for (const { startSamples, lengthSamples, channels } of pieces) {
    for (let i = Math.max(0, start - startSamples); i < Math.min(lengthSamples, end - startSamples); i++) {
      let sum = 0
      for (let c = 0; c < channels; c++) sum += samples[read + i * channels + c] ?? 0
      line[startSamples + i - start] = sum / channels
    }
    read += lengthSamples * channels
  }
  return { samples: line, startRawS: start / rateHz }
}
