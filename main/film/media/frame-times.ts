import { ClipProblem } from './clip-problem.ts'
import { guardedInputArgs, runFfmpeg } from './ffmpeg-run.ts'
import type { ContainerFormat } from './container-format.ts'
import type { Packet } from './packet-list.ts'
import type { MediaFfmpeg } from './probed-clip.ts'

/** When each frame of a video track is shown, in display order. */
export interface FrameTimes {
  /** Raw timestamps of the container, s, strictly rising. */
  readonly rawS: Float64Array
  readonly isKeyFrame: Uint8Array
  /** How long the last frame is shown, s. */
  readonly lastFrameS: number
}

/** Formats and codecs whose packets do not each stand for one shown frame with a timestamp of its own. */
const ONLY_BY_DECODING = new Set(['avi', 'mpegts', 'mpeg', 'vp8'])

/** Whether the container's own list tells when each frame is shown; otherwise the frames have to be decoded. */
export function packetsTellTimes(packets: readonly Packet[], format: ContainerFormat, codec: string): boolean {
  if (ONLY_BY_DECODING.has(format) || ONLY_BY_DECODING.has(codec)) return false
  return (
    new Set(packets.map((packet) => packet.rawS)).size === packets.length && packets.every((p) => p.rawS === p.rawS)
  )
}

/**
 * Frame times from the container's list, without decoding.
 *
 * @param firstRawS timestamp of the first frame that can be decoded, s: what lies before it is never shown
 */
export function frameTimesFromPackets(packets: readonly Packet[], firstRawS: number): FrameTimes {
  const shown = packets.filter((packet) => packet.rawS > firstRawS - 1e-4).sort((a, b) => a.rawS - b.rawS)
  const rawS = Float64Array.from(shown, (packet) => packet.rawS)
  const statedS = shown.at(-1)?.durationS ?? 0
  return {
    rawS,
    isKeyFrame: Uint8Array.from(shown, (packet) => (packet.isKey ? 1 : 0)),
    lastFrameS: statedS > 0 ? statedS : middleStepS(rawS),
  }
}

/** Frame times by decoding the whole track, for files that do not list them. */
export async function frameTimesByDecoding(
  ffmpeg: MediaFfmpeg,
  input: { readonly path: string; readonly format: ContainerFormat; readonly streamIndex: number },
  signal?: AbortSignal,
): Promise<FrameTimes> {
  const said: number[] = []
  const args = [
    ...guardedInputArgs(input),
    ...['-map', `0:${input.streamIndex}`, ...ffmpeg.features.passthroughArgs],
    ...['-vf', "select='0*print(t)+0*print(key)'", '-f', 'null', '-'],
  ]
  const end = await runFfmpeg(ffmpeg.ffmpegPath, args, {
    line: (line) => {
      const number = printedNumber(line)
      if (number !== null) said.push(number)
    },
    output: () => undefined,
    signal,
  })
  if (end.problem !== null) throw end.problem
  const times = said.filter((_, i) => i % 2 === 0)
  const rising = times.map((rawS, i) => ({ rawS, isKey: said[2 * i + 1] === 1 })).filter(isLaterThanAllBefore())
  if (rising.length === 0)
    throw new ClipProblem('damaged', 'No frame of the clip could be decoded: copy it from the phone again.')
  const rawS = Float64Array.from(rising, (frame) => frame.rawS)
  return { rawS, isKeyFrame: Uint8Array.from(rising, (f) => (f.isKey ? 1 : 0)), lastFrameS: middleStepS(rawS) }
}

/** The number in a log line that ffmpeg's `print()` wrote, `[info] 0.040000`, NaN for one without a value, or null
 * for any other line. */
export function printedNumber(line: string): number | null {
  const match = /^\[info\] (?:(-?\d+\.\d{6})|-?nan(?:\(\w*\))?)$/i.exec(line)
  return match === null ? null : Number(match[1] ?? NaN)
}

function isLaterThanAllBefore(): (frame: { readonly rawS: number }) => boolean {
  let latestS = -Infinity
  return (frame) => {
    const later = frame.rawS > latestS
    if (later) latestS = frame.rawS
    return later
  }
}

/** Median step between frames, s; 0 for a single frame. */
function middleStepS(rawS: Float64Array): number {
  const steps = rawS
    .slice(1)
    .map((t, i) => t - (rawS[i] ?? t))
    .sort()
  return steps[steps.length >> 1] ?? 0
}
