import { nearestFrame } from '../../analysis/drawing/frame-drawing.ts'

/** Closer than this two moments are the same, s. */
const SAME_S = 1e-6

/** The time of the frame nearest to a moment, s. */
export function snapped(ptsS: Float64Array, atS: number): number {
  return ptsS[nearestFrame(ptsS, atS)] ?? atS
}

/** The time of the frame that lies `count` frames after a moment (before it, if negative), within the film, s. */
export function framesFrom(ptsS: Float64Array, atS: number, count: number): number {
  const next = ptsS.findIndex((s) => s > atS + SAME_S)
  const before = ptsS.findLastIndex((s) => s < atS - SAME_S)
  const last = ptsS.length - 1
  const wanted = count > 0 ? (next < 0 ? last : next) + count - 1 : (before < 0 ? 0 : before) + count + 1
  return ptsS[Math.min(last, Math.max(0, wanted))] ?? atS
}
