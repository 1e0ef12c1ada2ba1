import { runProgram } from '../../../../main/film/engines/run-program.ts'

/** Luma of a JPEG file as ffmpeg decodes it: 0 black, 255 white, row by row. */
export async function lumaOf(ffmpegPath: string, jpeg: Uint8Array): Promise<Uint8Array> {
  const args = ['-loglevel', 'error', '-f', 'mjpeg', '-i', 'pipe:0', '-vf', 'extractplanes=y']
  const run = await runProgram(ffmpegPath, [...args, '-f', 'rawvideo', 'pipe:1'], jpeg, 60_000)
  if (run.kind !== 'ended' || run.exitCode !== 0) throw new Error(JSON.stringify(run))
  return run.stdout
}

/** Width and height that a JPEG file states. */
export function jpegSize(jpeg: Uint8Array): { widthPx: number; heightPx: number } {
  const bytes = Buffer.from(jpeg)
  for (let at = 2; at < bytes.length; at += 2 + bytes.readUInt16BE(at + 2)) {
    const marker = bytes.readUInt16BE(at)
    if (marker >= 0xffc0 && marker <= 0xffc2) {
      return { heightPx: bytes.readUInt16BE(at + 5), widthPx: bytes.readUInt16BE(at + 7) }
    }
  }
  throw new Error('This JPEG does not state its size.')
}
