import type { ClipFacts } from '../../main/contract/clips.ts'

/** `960 × 540, 30 frames per second, 5.2 s, with sound`. */
export function factsInWords({ widthPx, heightPx, averageRateHz, fileDurationS, hasSound }: ClipFacts): string {
  const rate = Number(averageRateHz.toFixed(1))
  return `${widthPx} × ${heightPx}, ${rate} frames per second, ${fileDurationS.toFixed(1)} s, ${hasSound ? 'with sound' : 'no sound'}`
}
