import type { DogTrack } from './dog-track.ts'

/**
 * A dog's track carried over to other times, for instance every frame of a clip whose strips were cut less often.
 *
 * @param track curves in m on its own times; @param ptsS s, rising
 * @returns the same track with curves interpolated in a straight line; NaN where a neighbour is unknown
 */
export function dogOnFrames(track: DogTrack, ptsS: Float64Array): DogTrack {
  const from = track.ptsS
  const at = new Int32Array(ptsS.length)
  const share = new Float64Array(ptsS.length)
  let i = 0
  for (let k = 0; k < ptsS.length; k++) {
    while (i < from.length - 2 && from[i + 1]! <= ptsS[k]!) i++
    at[k] = i
    const step = (from[i + 1] ?? from[i]!) - from[i]!
    share[k] = step > 0 ? Math.min(1, Math.max(0, (ptsS[k]! - from[i]!) / step)) : 0
  }
  const carried = (curve: Float64Array): Float64Array =>
    ptsS.map((_, k) => {
      const a = curve[at[k]!]!
      const s = share[k]!
      return s === 0 ? a : a + s * ((curve[at[k]! + 1] ?? NaN) - a)
    })
  return {
    ...track,
    ptsS,
    leadPawM: carried(track.leadPawM),
    leadPawSdM: carried(track.leadPawSdM),
    rearPawM: carried(track.rearPawM),
    rearPawSdM: carried(track.rearPawSdM),
    bodyM: carried(track.bodyM),
    bodySdM: carried(track.bodySdM),
  }
}
