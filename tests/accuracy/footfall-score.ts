import type { RideFootfall } from '../../analysis/ride/ride.ts'
import type { Truth } from './clips-with-truth.ts'

/** True footfalls, those of the measuring, and how many of them are the same. */
export interface FootfallScore {
  readonly wanted: number
  readonly given: number
  readonly matched: number
  /** Of the matched ones, those said to be of the right pair of legs. */
  readonly limbRight: number
}

export interface TrueFootfall {
  readonly alongM: number
  readonly fromS: number
  readonly toS: number
  readonly limb: 'front' | 'hind'
}

/** Shorter touches of a passing paw are not counted as footfalls, s. */
const SHORTEST_S = 0.08
/** The same footfall: no further apart than a large dog's paw is long, m, and together for half of its time. */
const SAME_PLACE_M = 0.08
const SAME_TIME = 0.5

/** Every stretch in which a paw touches the plank; null where the truth tells nothing of single paws. */
export function trueFootfalls({ frames: { ptsS, paws }, board }: Truth): readonly TrueFootfall[] | null {
  if (paws === undefined) return null
  return Object.entries(paws).flatMap(([name, { s, touching }]) => {
    const footfalls: TrueFootfall[] = []
    let from: number | null = null
    for (let k = 0; k <= ptsS.length; k++) {
      const isOn = touching[k] === 1 && s[k]! >= 0 && s[k]! <= board.lengthM
      if (isOn) from ??= k
      if (isOn || from === null) continue
      const places = s.slice(from, k).toSorted((a, b) => a - b)
      const [fromS, toS] = [ptsS[from]!, ptsS[k - 1]!]
      const limb = name.endsWith('F') ? 'front' : 'hind'
      if (toS - fromS >= SHORTEST_S) footfalls.push({ alongM: places[places.length >> 1]!, fromS, toS, limb })
      from = null
    }
    return footfalls
  })
}

/** Pairs true and measured footfalls one to one, those that are together longest first. */
export function scoreFootfalls(truth: readonly TrueFootfall[], given: readonly RideFootfall[]): FootfallScore {
  const pairs = truth.flatMap((want) =>
    given.flatMap((got) => {
      const togetherS = Math.min(want.toS, got.toS) - Math.max(want.fromS, got.fromS)
      const isSame =
        Math.abs(got.alongM - want.alongM) <= SAME_PLACE_M && togetherS >= SAME_TIME * (want.toS - want.fromS)
      return isSame ? [{ want, got, togetherS }] : []
    }),
  )
  pairs.sort((a, b) => b.togetherS - a.togetherS)
  const used = new Set<TrueFootfall | RideFootfall>()
  let [matched, limbRight] = [0, 0]
  for (const { want, got } of pairs) {
    if (used.has(want) || used.has(got)) continue
    used.add(want).add(got)
    matched++
    if (want.limb === got.limb) limbRight++
  }
  return { wanted: truth.length, given: given.length, matched, limbRight }
}
