import { chooseFfmpegFor } from '../../../../main/film/engines/ffmpeg-choice.ts'
import { runProgram } from '../../../../main/film/engines/run-program.ts'
import { matroskaHead, matroskaPicture } from '../../../../main/outputs/overlay/matroska.ts'

/** Uneven on purpose; whole ms, so that MP4 and Matroska both hold them exactly. */
export const unevenTimesS = [0, 0.04, 0.08, 0.16, 0.165, 0.3, 0.31, 0.5] as const

export const unevenSizePx = { widthPx: 320, heightPx: 180 } as const

/** Makes a grey clip with uneven timestamps and a tone, in a Matroska file. */
export async function makeUnevenClip(path: string): Promise<void> {
  const { widthPx, heightPx } = unevenSizePx
  const { ffmpegPath } = await chooseFfmpegFor(process.env)
  const luma = new Uint8Array(widthPx * heightPx).fill(90)
  const chroma = new Uint8Array((widthPx * heightPx) / 4).fill(128)
  const film = [matroskaHead(widthPx, heightPx), ...unevenTimesS.map((s) => matroskaPicture(s, [luma, chroma, chroma]))]
  const args = [
    ...['-y', '-loglevel', 'error', '-f', 'matroska', '-i', 'pipe:0', '-f', 'lavfi', '-i', 'sine=d=1:r=8000'],
    ...['-c:v', 'libx264', '-vsync', 'passthrough', '-enc_time_base', '1:1000', '-c:a', 'aac', path],
  ]
  const run = await runProgram(ffmpegPath, args, Buffer.concat(film), 30_000)
  if (run.kind !== 'ended' || run.exitCode !== 0) throw new Error(JSON.stringify(run))
}
