import { runProgram } from './run-program.ts'
import { H264_CLIP, HEVC_10_BIT_CLIP, SELF_TEST_CLIP } from './self-test-clips.ts'

const LIMIT_MS = 20_000

/** What differs between ffmpeg builds and matters to us. */
export interface FfmpegFeatures {
  /** Options that hand every decoded frame on unchanged; the name changed in ffmpeg 5.1. They go before the output. */
  readonly passthroughArgs: readonly ['-fps_mode', 'passthrough'] | readonly ['-vsync', 'passthrough']
  /** HEVC in 10 bit, which many phones record. */
  readonly decodesHevc: boolean
  /** libx264 is compiled in, so that MP4 clips can be written. */
  readonly encodesH264: boolean
}

export type SelfTest<Passed> =
  ({ readonly kind: 'passed' } & Passed) | { readonly kind: 'failed'; readonly why: string }

/** Decodes a tiny H.264 clip through pipes and compares every pixel and timestamp; tries HEVC beside it. */
export async function testFfmpeg(
  path: string,
): Promise<SelfTest<{ version: string; year: number | null; features: FfmpegFeatures }>> {
  const modern = ['-fps_mode', 'passthrough'] as const
  const old = ['-vsync', 'passthrough'] as const
  const [first, hevc] = await Promise.all([decode(path, H264_CLIP, modern), decode(path, HEVC_10_BIT_CLIP, modern)])
  if (first.kind === 'decoded') return passed(first.log, modern, hevc.kind === 'decoded')
  if (!first.why.includes('fps_mode')) return { kind: 'failed', why: first.why }
  const [second, oldHevc] = await Promise.all([decode(path, H264_CLIP, old), decode(path, HEVC_10_BIT_CLIP, old)])
  if (second.kind === 'decoded') return passed(second.log, old, oldHevc.kind === 'decoded')
  return { kind: 'failed', why: second.why }
}

/** Reads the timestamps of a tiny clip. */
export async function testFfprobe(path: string): Promise<SelfTest<{ version: string }>> {
  const args = ['-protocol_whitelist', 'pipe', '-show_entries', 'packet=pts_time', '-of', 'csv=p=0', 'pipe:0']
  const ran = await runProgram(path, args, H264_CLIP, LIMIT_MS)
  if (ran.kind === 'not-run') return { kind: 'failed', why: ran.why }
  if (ran.exitCode !== 0) return { kind: 'failed', why: exitReason(ran.exitCode, ran.stderr) }
  const ptsS = ran.stdout.toString('utf8').trim().split(/\s+/).map(Number)
  if (!sameTimes(ptsS)) return { kind: 'failed', why: `it read the timestamps of a test clip as ${ptsS.join(', ')} s` }
  return { kind: 'passed', version: versionFrom(ran.stderr, 'ffprobe') }
}

type Decoded = { readonly kind: 'decoded'; readonly log: string } | { readonly kind: 'failed'; readonly why: string }

async function decode(path: string, clip: Buffer, passthrough: readonly string[]): Promise<Decoded> {
  const input = ['-nostdin', '-nostats', '-protocol_whitelist', 'pipe', '-i', 'pipe:0', '-vf', 'showinfo']
  const args = [...input, '-pix_fmt', 'gray', ...passthrough, '-f', 'rawvideo', 'pipe:1']
  const ran = await runProgram(path, args, clip, LIMIT_MS)
  if (ran.kind === 'not-run') return { kind: 'failed', why: ran.why }
  if (ran.exitCode !== 0) return { kind: 'failed', why: exitReason(ran.exitCode, ran.stderr) }
  const wrong = wrongPixels(ran.stdout) ?? wrongTimes(ran.stderr)
  return wrong === null ? { kind: 'decoded', log: ran.stderr } : { kind: 'failed', why: wrong }
}

function passed(log: string, passthroughArgs: FfmpegFeatures['passthroughArgs'], decodesHevc: boolean) {
  const encodesH264 = log.includes('--enable-libx264')
  const features = { passthroughArgs, decodesHevc, encodesH264 }
  return { kind: 'passed', version: versionFrom(log, 'ffmpeg'), year: yearFrom(log), features } as const
}

function wrongPixels(stdout: Buffer): string | null {
  const frameBytes = SELF_TEST_CLIP.widthPx * SELF_TEST_CLIP.heightPx
  const wantedBytes = frameBytes * SELF_TEST_CLIP.luma.length
  if (stdout.length !== wantedBytes) {
    return `it decoded a test clip to ${stdout.length} bytes instead of ${wantedBytes}`
  }
  // The flat colours were coded almost exactly; full and video range differ by far more than this.
  const right = stdout.every(
    (value, i) => Math.abs(value - (SELF_TEST_CLIP.luma[Math.floor(i / frameBytes)] ?? NaN)) <= 3,
  )
  return right ? null : 'it decoded a test clip to wrong pixels'
}

function wrongTimes(log: string): string | null {
  const ptsS = [...log.matchAll(/pts_time:\s*(\S+)/g)].map((match) => Number(match[1]))
  return sameTimes(ptsS) ? null : `it read the timestamps of a test clip as ${ptsS.join(', ')} s`
}

function sameTimes(ptsS: readonly number[]): boolean {
  return ptsS.length === SELF_TEST_CLIP.ptsS.length && ptsS.every((t, i) => t === SELF_TEST_CLIP.ptsS[i])
}

function versionFrom(log: string, program: 'ffmpeg' | 'ffprobe'): string {
  return new RegExp(`^${program} version (\\S+)`, 'm').exec(log)?.[1] ?? 'unknown'
}

/** The last year of its copyright line, which is when it was built, for lack of better. */
function yearFrom(log: string): number | null {
  const year = /^ffmpeg version .* Copyright \(c\) \d+-(\d{4}) /m.exec(log)?.[1]
  return year === undefined ? null : Number(year)
}

/** The last line that a program wrote usually says why it gave up. */
function exitReason(exitCode: number, stderr: string): string {
  const lines = stderr.trim().split('\n')
  const line = lines.find((text) => /unrecognized option/i.test(text)) ?? lines.at(-1) ?? ''
  return `it gave up on a test clip with exit code ${exitCode}${line === '' ? '' : `: ${line.trim()}`}`
}
