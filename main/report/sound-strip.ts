import { soundBars } from '../../analysis/drawing/sound-bars.ts'
import type { SoundEnvelope } from '../measuring/measured-ride.ts'
import { type Markup, markup } from './markup.ts'

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
  const path = soundBars(sound, x, leftPx, rightPx)
    .map(({ xPx, share }) => {
      const halfPx = Math.max(0.5, (share * (row.bottom - row.top)) / 2)
      return `M${xPx.toFixed(1)},${(middle - halfPx).toFixed(1)}V${(middle + halfPx).toFixed(1)}`
    })
    .join('')
  return markup`${name}<path class="sound" d="${path}"/>`
}
