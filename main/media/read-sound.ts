import type { Sound } from '../../analysis/sound/sound.ts'
import { guardedInputArgs, runFfmpeg } from './ffmpeg-run.ts'
import type { MediaFfmpeg, ProbedClip } from './probed-clip.ts'

/** Sound above this rate tells no more about a landing, Hz of the file's own time. */
const HIGHEST_RATE_HZ = 48_000

/** Which part of the sound is wanted. */
export interface SoundRequest {
  /** s of real time, clip's clock. */
  readonly fromS: number
  readonly toS: number
  readonly slowMotionFactor: number
  readonly signal?: AbortSignal
}

/**
 * A stretch of a clip's sound, mixed to one channel, with its place on the clip's clock; null for a clip without sound
 * or where the sound cannot be decoded. The track's own offset to the picture is kept.
 */
export async function readSound(
  clip: ProbedClip,
  ffmpeg: MediaFfmpeg,
  { fromS, toS, slowMotionFactor, signal }: SoundRequest,
): Promise<Sound | null> {
  const track = clip.sound
  if (track === null) return null
  const rateHz = Math.min(track.rateHz, HIGHEST_RATE_HZ)
  const firstFileS = Math.max(track.startFileS, fromS * slowMotionFactor)
  const lastFileS = Math.min(track.startFileS + track.fileDurationS, toS * slowMotionFactor)
  if (lastFileS <= firstFileS) return null
  const rawOf = (fileS: number) => (clip.video.firstRawS + fileS).toFixed(6)
  const chunks: Buffer[] = []
  const end = await runFfmpeg(
    ffmpeg.ffmpegPath,
    [
      ...guardedInputArgs({ path: clip.path, format: clip.format }),
      ...['-map', `0:${track.streamIndex}`, '-vn', '-ac', '1', '-ar', String(rateHz)],
      // The first sample kept is the one at the start asked for, so its time is known.
      ...[
        '-af',
        `atrim=start=${rawOf(firstFileS)}:end=${rawOf(lastFileS)}`,
        '-c:a',
        'pcm_f32le',
        '-f',
        'f32le',
        'pipe:1',
      ],
    ],
    { output: (chunk) => chunks.push(chunk), signal },
  )
  if (end.problem !== null || chunks.length === 0) return null
  const bytes = Buffer.concat(chunks)
  const samples = new Float32Array(bytes.length >> 2)
  for (let i = 0; i < samples.length; i++) samples[i] = bytes.readFloatLE(4 * i)
  return { samples, rateHz, startS: firstFileS / slowMotionFactor, slowMotionFactor }
}
