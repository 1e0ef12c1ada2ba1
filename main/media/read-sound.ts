import type { Sound } from '../../analysis/clip/sound.ts'
import { guardedInputArgs, runFfmpeg } from './ffmpeg-run.ts'
import type { MediaFfmpeg, ProbedClip } from './probed-clip.ts'

/** Decoders of sound need a moment after a jump before their output is right. */
const RUN_IN_S = 1

export interface SoundRequest {
  /** Stretch wanted, the file's own time, s, first video frame = 0; the whole track if absent. */
  readonly fromFileS?: number
  readonly toFileS?: number
  /** Samples per second wanted, of the file's own time. */
  readonly rateHz: number
  readonly signal?: AbortSignal
}

/**
 * Decodes the sound track to one channel. Every piece is put where its own timestamp says, so gaps stay gaps and the
 * start keeps its offset to the pictures.
 *
 * @returns null when the clip has no sound, none in this stretch, or none that this ffmpeg can decode
 */
export async function readSound(clip: ProbedClip, ffmpeg: MediaFfmpeg, request: SoundRequest): Promise<Sound | null> {
  if (clip.sound === null) return null
  const { rateHz, signal } = request
  const zeroRawS = clip.video.firstRawS
  const fromRawS = zeroRawS + (request.fromFileS ?? -Infinity)
  const toRawS = zeroRawS + (request.toFileS ?? Infinity)
  const seek = fromRawS > zeroRawS + RUN_IN_S ? { seekRawS: fromRawS - RUN_IN_S } : {}
  const pieces: Piece[] = []
  const chunks: Buffer[] = []
  const args = [
    ...guardedInputArgs({ path: clip.path, format: clip.format, ...seek }),
    ...['-map', `0:${clip.sound.streamIndex}`, '-af', soundFilters(rateHz, toRawS).join()],
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
  return placed(samplesFrom(Buffer.concat(chunks)), pieces, { rateHz, zeroRawS, fromRawS, toRawS })
}

function soundFilters(rateHz: number, toRawS: number): string[] {
  const trim = Number.isFinite(toRawS) ? [`atrim=end=${toRawS.toFixed(6)}`] : []
  return [...trim, `aresample=${rateHz}`, 'aformat=sample_fmts=flt:channel_layouts=mono', 'ashowinfo']
}

/** A run of samples as ffmpeg logs it: where it starts, in samples since raw time 0, and how long it is. */
interface Piece {
  readonly startSamples: number
  readonly lengthSamples: number
}

function pieceFrom(line: string): Piece | null {
  const match = /ashowinfo.* pts: *(-?\d+) .*nb_samples:(\d+)/.exec(line)
  return match === null ? null : { startSamples: Number(match[1]), lengthSamples: Number(match[2]) }
}

function samplesFrom(bytes: Buffer): Float32Array {
  const aligned = new Uint8Array(bytes.length - (bytes.length % 4))
  aligned.set(bytes.subarray(0, aligned.length))
  return new Float32Array(aligned.buffer)
}

interface Stretch {
  readonly rateHz: number
  readonly zeroRawS: number
  readonly fromRawS: number
  readonly toRawS: number
}

/** Lays the pieces on one even time line and cuts it to the stretch. */
function placed(samples: Float32Array, pieces: readonly Piece[], stretch: Stretch): Sound | null {
  const { rateHz } = stretch
  const first = pieces[0]
  const last = pieces.at(-1)
  if (first === undefined || last === undefined) return null
  const start = Math.max(first.startSamples, Math.ceil(stretch.fromRawS * rateHz - 1e-6))
  const end = Math.min(last.startSamples + last.lengthSamples, Math.floor(stretch.toRawS * rateHz + 1e-6) + 1)
  if (end <= start) return null
  const line = new Float32Array(end - start)
  let read = 0
  for (const { startSamples, lengthSamples } of pieces) {
    const skip = Math.max(0, start - startSamples)
    const piece = samples.subarray(read + Math.min(skip, lengthSamples), read + lengthSamples)
    const at = startSamples + skip - start
    if (at < line.length) line.set(piece.subarray(0, line.length - at), at)
    read += lengthSamples
  }
  return { samples: line, rateHz, startFileS: start / rateHz - stretch.zeroRawS }
}
