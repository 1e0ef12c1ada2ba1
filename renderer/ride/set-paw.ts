import type { HandFootfall } from '../../analysis/ride/corrections.ts'
import { snapped } from './nearest-frame.ts'

/** How far off its ends a paw on the plank may be placed, m. */
const OVER_M = 0.05

/**
 * A paw contact as it may be set: on the plank, its moments on frames, at least one frame long. What is not changed
 * stays as it was measured.
 */
export function settledPaw(
  wanted: HandFootfall,
  before: HandFootfall | null,
  ptsS: Float64Array,
  lengthM: number,
): HandFootfall {
  const alongM = Math.min(lengthM + OVER_M, Math.max(-OVER_M, wanted.alongM))
  const moment = (side: 'fromS' | 'toS') =>
    wanted[side] === before?.[side] ? wanted[side] : snapped(ptsS, wanted[side])
  const fromS = moment('fromS')
  const toS = moment('toS')
  if (toS > fromS) return { ...wanted, alongM, fromS, toS }
  // The moment that is being moved stops at the other one.
  const isEndMoved = before !== null && wanted.fromS === before.fromS
  return isEndMoved
    ? { ...wanted, alongM, fromS, toS: frameAfter(ptsS, fromS) }
    : { ...wanted, alongM, fromS: frameBefore(ptsS, toS), toS }
}

function frameAfter(ptsS: Float64Array, atS: number): number {
  return ptsS.find((s) => s > atS) ?? atS
}

function frameBefore(ptsS: Float64Array, atS: number): number {
  return ptsS.findLast((s) => s < atS) ?? atS
}

/** How long a paw that is added stands at first, s: a stance of a dog at a walk. */
const STANCE_S = 0.2

/** A new paw contact that begins in the frame shown, at the lead paw or, where that is not known, at the pivot. */
export function newPaw(ptsS: Float64Array, element: number, leadPawM: number | null, lengthM: number): HandFootfall {
  const fromS = ptsS[element] ?? 0
  const last = ptsS[ptsS.length - 1] ?? fromS
  const wanted = {
    alongM: leadPawM ?? lengthM / 2,
    fromS,
    toS: Math.min(last, fromS + STANCE_S),
    limb: 'front',
  } as const
  return settledPaw(wanted, null, ptsS, lengthM)
}
