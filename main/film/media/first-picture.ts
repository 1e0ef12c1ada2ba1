import { ClipProblem } from './clip-problem.ts'
import type { ContainerFormat } from './container-format.ts'
import { unreadableClip } from './ffmpeg-complaint.ts'
import { guardedInputArgs, runFfmpeg } from './ffmpeg-run.ts'
import type { MediaFfmpeg } from './probed-clip.ts'

/** What decoding the first frame shows, after ffmpeg has turned it the right way up. */
export interface FirstPicture {
  readonly rawS: number
  /** As displayed, with square pixels. */
  readonly widthPx: number
  readonly heightPx: number
  /** False when the stored pixels are not square, so that pictures have to be stretched. */
  readonly isSquare: boolean
  readonly pixelFormat: string
  readonly bitDepth: number
  /** True when black is 0 and white 255, false for the usual 16-235. */
  readonly isFullRange: boolean
}

/** Decodes one frame, the proof that this ffmpeg can read the track. Throws a `ClipProblem` if it cannot. */
export async function firstPicture(
  ffmpeg: MediaFfmpeg,
  track: { readonly path: string; readonly format: ContainerFormat; readonly streamIndex: number },
  fileName: string,
  signal?: AbortSignal,
): Promise<FirstPicture> {
  const log: string[] = []
  const args = [
    ...guardedInputArgs(track),
    ...['-map', `0:${track.streamIndex}`, ...ffmpeg.features.passthroughArgs],
    ...['-vf', 'showinfo', '-frames:v', '1', '-f', 'null', '-'],
  ]
  const end = await runFfmpeg(ffmpeg.ffmpegPath, args, { line: (l) => log.push(l), output: () => undefined, signal })
  if (end.problem !== null) throw end.problem
  const shown = log.find((line) => /showinfo.* n: *0 /.test(line))
  const said = /pts_time:(\S+) .*fmt:(\S+) .*sar:(\d+)\/(\d+) s:(\d+)x(\d+)/.exec(shown ?? '')
  if (said === null) {
    if (log.some((line) => /decoder.*not found|Unsupported codec|Decoder \(codec/i.test(line)))
      throw cannotDecode(fileName, log)
    throw unreadableClip(fileName, end.complaints)
  }
  const [rawS, , sarTop, sarBottom, width, height] = said.slice(1).map(Number) as [number, ...number[]]
  const pixelFormat = said[2] ?? ''
  const pixelAspect = sarTop! > 0 && sarBottom! > 0 ? sarTop! / sarBottom! : 1
  return {
    rawS,
    widthPx: Math.round(width! * pixelAspect),
    heightPx: height!,
    isSquare: pixelAspect === 1,
    pixelFormat,
    bitDepth: Number(/(9|10|12|14|16)(le|be)$/.exec(pixelFormat)?.[1] ?? 8),
    isFullRange: pixelFormat.startsWith('yuvj') || log.some((line) => line.includes('color_range:pc')),
  }
}

function cannotDecode(fileName: string, log: readonly string[]): ClipProblem {
  const codec = /Video: (\w+)/.exec(log.find((line) => line.includes('Video: ')) ?? '')?.[1] ?? 'its'
  return new ClipProblem(
    'cannot-decode',
    `${fileName} is coded in a way that the installed ffmpeg cannot decode (${codec}): install a newer ffmpeg, or convert the clip to H.264.`,
  )
}
