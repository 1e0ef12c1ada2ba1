/** `count` frames (fewer if there are not so many), evenly through a clip: each stands for the middle of its part. */
export function spreadFrames(frameCount: number, count: number): readonly number[] {
  const parts = Math.min(frameCount, count)
  return Array.from({ length: parts }, (_, part) => Math.floor(((part + 0.5) / parts) * frameCount))
}
