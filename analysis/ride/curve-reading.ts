/**
 * A curve's value between its frames, in a straight line.
 *
 * @param ptsS times, s, rising; @param curve one value a time, NaN where unknown; @param atS s
 * @returns NaN outside the times or beside an unknown value
 */
export function curveAt(ptsS: Float64Array, curve: Float64Array, atS: number): number {
  const i = indexBefore(ptsS, atS)
  if (i < 0) return NaN
  const share = (atS - ptsS[i]!) / (ptsS[i + 1]! - ptsS[i]!)
  return share === 0 ? curve[i]! : curve[i]! + share * (curve[i + 1]! - curve[i]!)
}

/**
 * A curve's slope around a time, from the frames one before and one after it.
 *
 * @param ptsS times, s, rising; @param curve one value a time; @param atS s
 * @returns units per s; 0 where unknown
 */
export function slopeAt(ptsS: Float64Array, curve: Float64Array, atS: number): number {
  const i = indexBefore(ptsS, atS)
  if (i < 0) return 0
  const a = Math.max(0, i - 1)
  const b = Math.min(ptsS.length - 1, i + 2)
  const slope = (curve[b]! - curve[a]!) / (ptsS[b]! - ptsS[a]!)
  return Number.isNaN(slope) ? 0 : slope
}

/**
 * The frame just before a time.
 *
 * @param ptsS times, s, rising; @param atS s
 * @returns its index, at most the last but one; -1 outside
 */
export function indexBefore(ptsS: Float64Array, atS: number): number {
  const last = ptsS.length - 1
  if (last < 1 || !(atS >= ptsS[0]!) || atS > ptsS[last]!) return -1
  let low = 0
  let high = last
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (ptsS[middle]! <= atS) low = middle
    else high = middle
  }
  return low
}
