import type { View } from './frame.ts'

/** A rectangle of the displayed picture, full-resolution px. */
export interface CropPx {
  readonly xPx: number
  readonly yPx: number
  readonly widthPx: number
  readonly heightPx: number
}

interface Size {
  readonly widthPx: number
  readonly heightPx: number
}

/** Larger denominators would cost more picture at the border than they gain in size. */
const MAX_DENOMINATOR = 16
/** How much smaller than asked for a view may be if that keeps more of the picture. */
const SCALE_SLACK = 0.9

/**
 * The view that shows a rectangle of a picture at a scale which is exactly the same in x and y: the scale is a simple
 * fraction, the decoded size is even, and the rectangle starts on even px (4:2:0 chroma is not cut in half).
 *
 * @param picture size of the displayed picture, full-resolution px, at least 2 x 2
 * @param crop the rectangle wanted, full-resolution px; parts outside the picture are left out. Absent: all of it
 * @param atMostScale the largest scale wanted, decoded px per full-resolution px; 1 if absent, never more than 1
 * @returns the view; it covers `crop` and up to 32 px more, but at the right and lower border of the picture it may
 * end up to 32 px early. Never withheld. Example: 1920 x 1080 at most 0.68 gives 1280 x 720 at scale 2/3
 */
export function viewFor(
  picture: Size,
  crop: CropPx = { xPx: 0, yPx: 0, widthPx: picture.widthPx, heightPx: picture.heightPx },
  atMostScale = 1,
): View {
  const wanted = Math.min(1, atMostScale)
  const originXPx = evenBelow(crop.xPx, picture.widthPx)
  const originYPx = evenBelow(crop.yPx, picture.heightPx)
  const need = { widthPx: crop.xPx + crop.widthPx - originXPx, heightPx: crop.yPx + crop.heightPx - originYPx }
  const room = { widthPx: picture.widthPx - originXPx, heightPx: picture.heightPx - originYPx }
  const views = fractionsUpTo(wanted)
    .map((fraction) => fitted(fraction, need, room))
    .filter((fit) => fit.widthPx >= 2 && fit.heightPx >= 2)
  const best = views.reduce((a, b) => (b.keeps > a.keeps || (b.keeps === a.keeps && b.scale > a.scale) ? b : a))
  return { widthPx: best.widthPx, heightPx: best.heightPx, originXPx, originYPx, scale: best.scale }
}

function evenBelow(px: number, sizePx: number): number {
  const last = Math.max(0, sizePx - 2)
  return 2 * Math.floor(Math.min(Math.max(0, px), last) / 2)
}

interface Fraction {
  readonly top: number
  readonly bottom: number
}

/** All simple fractions from a little below `scale` up to it, and 1 / n for small scales. */
function fractionsUpTo(scale: number): Fraction[] {
  const fractions: Fraction[] = [{ top: 1, bottom: Math.ceil(1 / scale - 1e-9) }]
  for (let bottom = 1; bottom <= MAX_DENOMINATOR; bottom++) {
    for (let top = 1; top <= bottom; top++) {
      const value = top / bottom
      if (value <= scale + 1e-9 && value >= SCALE_SLACK * scale && greatestDivisor(top, bottom) === 1) {
        fractions.push({ top, bottom })
      }
    }
  }
  return fractions
}

/** The decoded size at one scale, and how much of the wanted area it keeps (px of the full picture). */
function fitted({ top, bottom }: Fraction, need: Size, room: Size) {
  const stepPx = top % 2 === 0 ? bottom : 2 * bottom
  const fit = (needPx: number, roomPx: number) =>
    stepPx * Math.min(Math.ceil(Math.min(needPx, roomPx) / stepPx), Math.floor(roomPx / stepPx))
  const widthPx = fit(need.widthPx, room.widthPx)
  const heightPx = fit(need.heightPx, room.heightPx)
  return {
    widthPx: (widthPx * top) / bottom,
    heightPx: (heightPx * top) / bottom,
    scale: top / bottom,
    keeps: Math.min(widthPx, need.widthPx) * Math.min(heightPx, need.heightPx),
  }
}

function greatestDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestDivisor(b, a % b)
}
