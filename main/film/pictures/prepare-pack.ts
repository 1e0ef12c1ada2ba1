import type { MediaFfmpeg, ProbedClip } from '../media/probed-clip.ts'
import type { FramePackWriter } from './frame-pack.ts'
import { frameJpegs, type JpegLook } from './frame-jpegs.ts'

/** Frames from one to another, both included, display order. */
export interface FrameRange {
  readonly fromFrame: number
  readonly toFrame: number
}

/**
 * Writes a clip's pictures, those of the chosen stretch first, until all are there or there is no more room.
 *
 * @param onDone called with the count of frames done, for every frame
 */
export async function preparePack(
  clip: ProbedClip,
  ffmpeg: MediaFfmpeg,
  writer: FramePackWriter,
  plan: { readonly stretch: FrameRange | null; readonly look: JpegLook; readonly mostBytes: number },
  signal: AbortSignal,
  onDone: (framesDone: number) => void,
): Promise<void> {
  let done = 0
  for (const { fromFrame, toFrame } of inOrder(clip.video.fileTimesS.length, plan.stretch)) {
    const wanted = { kind: 'range', firstIndex: fromFrame, lastIndex: toFrame } as const
    for await (const frame of frameJpegs(clip, ffmpeg, wanted, plan.look, signal)) {
      if (writer.bytes + frame.jpeg.length > plan.mostBytes) return
      await writer.add(frame)
      onDone(++done)
    }
  }
}

/** The stretch, what follows it, then what comes before it. */
function inOrder(frameCount: number, stretch: FrameRange | null): FrameRange[] {
  const last = frameCount - 1
  if (stretch === null) return [{ fromFrame: 0, toFrame: last }]
  const { fromFrame, toFrame } = stretch
  const all = [
    { fromFrame, toFrame: Math.min(toFrame, last) },
    { fromFrame: toFrame + 1, toFrame: last },
    { fromFrame: 0, toFrame: fromFrame - 1 },
  ]
  return all.filter((range) => range.toFrame >= range.fromFrame)
}
