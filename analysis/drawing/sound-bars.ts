/** Loudness through a ride, evenly spaced: 0 silence, 1 the loudest a file can hold. */
export interface Loudness {
  readonly startS: number
  readonly rateHz: number
  readonly level: ArrayLike<number>
}

/** One bar of a sound strip; `share` 0-1 of the loudest bar shown. */
export interface SoundBar {
  readonly xPx: number
  readonly share: number
}

const BAR_PX = 4

/**
 * The sound as bars side by side, each as loud as the loudest instant in it.
 *
 * @param sound through the ride
 * @param scale px from s and back
 * @param fromPx,toPx where the strip begins and ends
 * @returns bars from left to right
 */
export function soundBars(
  sound: Loudness,
  scale: { invert(xPx: number): number },
  fromPx: number,
  toPx: number,
): readonly SoundBar[] {
  const bars: { xPx: number; level: number }[] = []
  for (let xPx = fromPx; xPx + BAR_PX <= toPx; xPx += BAR_PX) {
    bars.push({ xPx: xPx + BAR_PX / 2, level: loudest(sound, scale.invert(xPx), scale.invert(xPx + BAR_PX)) })
  }
  const highest = Math.max(...bars.map((bar) => bar.level), 1e-6)
  return bars.map(({ xPx, level }) => ({ xPx, share: level / highest }))
}

function loudest({ startS, rateHz, level }: Loudness, fromS: number, toS: number): number {
  const first = Math.max(0, Math.floor((fromS - startS) * rateHz))
  const end = Math.min(level.length, Math.max(first + 1, Math.floor((toS - startS) * rateHz)))
  let loudestLevel = 0
  for (let k = first; k < end; k++) loudestLevel = Math.max(loudestLevel, level[k]!)
  return loudestLevel
}
