import { spawn, type ChildProcess } from 'node:child_process'
import { once } from 'node:events'
import type { CameraSpec } from '../scenario.ts'
import { slowMotionFactor, unevenTimesFilters } from './frame-times.ts'
import { setQuarterTurn } from './turn-flag.ts'

export interface VideoOptions {
  readonly camera: CameraSpec
  readonly path: string
  /** A WAVE file to go with the pictures; null for a silent clip. */
  readonly soundPath: string | null
  /** Size to enlarge the pictures to, and strength of the noise added then. */
  readonly enlarge?: { readonly widthPx: number; readonly heightPx: number; readonly noise: number }
  readonly preset?: string
}

/** A clip being written: frames of rgb24 bytes go in one after the other, `close` finishes the file. */
export class VideoWriter {
  private readonly options: VideoOptions
  private readonly encoder: ChildProcess
  private readonly ended: Promise<unknown[]>
  private complaints = ''

  constructor(options: VideoOptions) {
    this.options = options
    this.encoder = spawn('ffmpeg', encoderArguments(options), { stdio: ['pipe', 'ignore', 'pipe'] })
    this.ended = once(this.encoder, 'close')
    // A failure to start or to write is told by `close`.
    this.ended.catch(() => undefined)
    this.encoder.stdin!.on('error', () => undefined)
    this.encoder.stderr!.on('data', (text: Buffer) => (this.complaints += text.toString()))
  }

  /** Hands one frame over; the bytes may be used again afterwards. */
  async write(rgb: Uint8Array): Promise<void> {
    const { stdin } = this.encoder
    if (stdin!.destroyed) return
    await new Promise<void>((resolve) => stdin!.write(rgb, () => resolve()))
  }

  async close(): Promise<void> {
    this.encoder.stdin!.end()
    const [status] = await this.ended
    if (status !== 0) throw new Error(`ffmpeg could not write the clip: ${this.complaints.trim()}`)
    const { camera, path } = this.options
    if (camera.turned) await setQuarterTurn(path, camera.widthPx)
  }
}

function encoderArguments({ camera, path, soundPath, enlarge, preset }: VideoOptions): string[] {
  const slow = slowMotionFactor(camera) > 1
  const filters = [
    ...(enlarge ? [`scale=${enlarge.widthPx}:${enlarge.heightPx}:flags=bicubic`] : []),
    ...(enlarge && enlarge.noise > 0 ? [`noise=alls=${enlarge.noise}:allf=t`] : []),
    ...(camera.variableRate ? unevenTimesFilters(camera) : []),
    // A phone held upright stores the picture turned; the flag that turns it back is set at the end.
    ...(camera.turned ? ['transpose=2'] : []),
    'scale=out_color_matrix=bt709:out_range=tv',
    'format=yuv420p',
  ]
  return [
    ...['-v', 'error', '-y', '-threads', '1'],
    ...['-f', 'rawvideo', '-pix_fmt', 'rgb24', '-s', `${camera.widthPx}x${camera.heightPx}`],
    ...['-r', String(camera.fileHz), '-i', '-'],
    ...(soundPath ? ['-i', soundPath, '-c:a', 'aac', '-b:a', '64k'] : []),
    ...(soundPath && slow ? ['-ar', '44100'] : []),
    ...[
      '-vf',
      filters.join(','),
      '-c:v',
      'libx264',
      '-preset',
      preset ?? 'slow',
      '-crf',
      String(camera.crf),
      '-g',
      '60',
    ],
    ...['-threads', '1', '-colorspace', 'bt709', '-color_primaries', 'bt709', '-color_trc', 'bt709'],
    ...[
      '-fflags',
      '+bitexact',
      '-flags:v',
      '+bitexact',
      '-flags:a',
      '+bitexact',
      '-movflags',
      slow ? '+faststart+use_metadata_tags' : '+faststart',
    ],
    // Phones note the capture rate like this.
    ...(slow ? ['-metadata', `com.android.capture.fps=${camera.captureHz}`] : []),
    ...(camera.variableRate
      ? ['-fps_mode', 'passthrough', '-enc_time_base', '1:90000', '-video_track_timescale', '90000']
      : []),
    path,
  ]
}
