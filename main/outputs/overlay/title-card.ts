import type { Frame, View } from '../../../analysis/clip/frame.ts'
import { textWidthPx, paintText, canWrite } from './lettering.ts'
import type { Inks } from './paint-drawing.ts'

/** What stands on the card before a film. */
export interface TitleCard {
  readonly title: string
  /** Below it, smaller. */
  readonly about: string
  readonly rows: readonly (readonly [name: string, value: string])[]
  readonly foot: string
}

/** A picture of its own with the title and the measures of a ride. */
export function titleCardFrame({ title, about, rows, foot }: TitleCard, view: View, inks: Inks): Frame {
  const { widthPx, heightPx } = view
  const chroma = (value: number) => new Uint8Array((widthPx / 2) * (heightPx / 2)).fill(value)
  const frame: Frame = {
    index: 0,
    ptsS: 0,
    view,
    y: new Uint8Array(widthPx * heightPx).fill(inks.casing.y),
    u: chroma(inks.casing.u),
    v: chroma(inks.casing.v),
  }
  const unitPx = Math.min(widthPx / 100, heightPx / 56)
  const left = 8 * unitPx
  const line = (text: string, xPx: number, baseUnits: number, sizeUnits: number, ink = inks.edge): void => {
    const written = writable(text)
    const fits = Math.min(1, (widthPx - xPx - 6 * unitPx) / Math.max(1, textWidthPx(written, sizeUnits * unitPx)))
    const sizePx = sizeUnits * unitPx * fits
    paintText(frame, written, [xPx, baseUnits * unitPx], sizePx, 0.14 * sizePx, ink)
  }
  line(title, left, 9, 3.2)
  line(about, left, 13.5, 1.6, inks.zone)
  const stepUnits = Math.min(3.2, 33 / Math.max(1, rows.length))
  rows.forEach(([name, value], k) => {
    line(name, left, 18 + k * stepUnits, 0.46 * stepUnits)
    line(value, left + 50 * unitPx, 18 + k * stepUnits, 0.46 * stepUnits)
  })
  line(foot, left, 53.5, 1.1, inks.zone)
  return frame
}

/** The letters of a text that can be painted; accents go, other signs are left out. */
function writable(text: string): string {
  const plain = text.normalize('NFD').replace(/\p{M}/gu, '').replaceAll('\u00a0', ' ').replace(/[“”"]/g, '')
  return [...plain].filter((letter) => canWrite(letter)).join('')
}
