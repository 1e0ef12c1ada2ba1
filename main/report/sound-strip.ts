import type { SoundEnvelope } from '../measuring/measured-ride.ts'
import { type Markup, markup } from './markup.ts'

const barPx = 4

interface TimeScale {
  (atS: number): number
  invert(xPx: number): number
  range(): number[]
}

/** The sound's loudness as mirrored bars, the loudest shown fills the row; a sentence where the clip has no sound. */
export function soundStrip(
  sound: SoundEnvelope | null,
  x: TimeScale,
  row: { readonly top: number; readonly bottom: number },
): Markup {
  const [leftPx = 0, rightPx = 0] = x.range()
  const middle = (row.top + row.bottom) / 2
  const name = markup`<text class="quiet" x="${leftPx - 8}" y="${middle + 4}" text-anchor="end">sound</text>`
  if (sound === null) {
    return markup`${name}<text class="quiet" x="${leftPx + 8}" y="${middle + 4}">The clip has no sound.</text>`
  }
  const bars: { xPx: number; level: number }[] = []
  for (let xPx = leftPx; xPx + barPx <= rightPx; xPx += barPx) {
    bars.push({ xPx: xPx + barPx / 2, level: loudest(sound, x.invert(xPx), x.invert(xPx + barPx)) })
  }
  const highest = Math.max(...bars.map((bar) => bar.level), 1e-6)
  const path = bars
    .map(({ xPx, level }) => {
      const halfPx = Math.max(0.5, ((level / highest) * (row.bottom - row.top)) / 2)
      return `M${xPx.toFixed(1)},${(middle - halfPx).toFixed(1)}V${(middle + halfPx).toFixed(1)}`
    })
    .join('')
  return markup`${name}<path class="sound" d="${path}"/>`
}

function loudest({ startS, rateHz, level }: SoundEnvelope, fromS: number, toS: number): number {
  const first = Math.max(0, Math.floor((fromS - startS) * rateHz))
  const end = Math.min(level.length, Math.max(first + 1, Math.floor((toS - startS) * rateHz)))
  let loudestLevel = 0
  for (let k = first; k < end; k++) loudestLevel = Math.max(loudestLevel, level[k]!)
  return loudestLevel
}
