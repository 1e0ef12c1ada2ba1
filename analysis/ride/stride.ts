import type { Footfall } from '../dog/dog-track.ts'
import { type Estimate, measured, withheld } from '../estimate.ts'
import { median } from '../numeric/robust.ts'

/** Less sure than this no footfall counts. */
const SURE = 0.7
/** The climb ends at the pivot; what a paw that steps over it does still belongs to it, m. */
const OVER_PIVOT_M = 0.2
/** Front and hind paws of one dog stride alike: their periods differ by no more than this, in shares. */
const ALIKE = 0.25
/** In a walk or trot front paws come down evenly: the longest time between two is this much of the shortest, at most. */
const EVEN = 1.6
const FEWEST_EVEN = 4
/** No dog strides shorter or longer than this on a plank, m (our judgement). */
const STRIDE_M = { from: 0.15, to: 2.6 }
/** Strides shorten on the climb: how far the mean of those seen may be from that of all, in shares (our judgement). */
const UNSEEN_SD = 0.06

/**
 * How far a front paw comes from one footfall to its next, as a mean over the climb. Front paws take turns, so a paw's
 * next footfall is the next but one of both. None was missed where they come down evenly, or where hind paws, which take
 * turns as well, stride in the same time.
 *
 * @param footfalls on the plank, m along, s; @param lengthM of the plank
 * @returns m; withheld where fewer than three front footfalls are sure, or one seems to be missing
 */
export function strideOf(footfalls: readonly Footfall[], lengthM: number): Estimate {
  const climb = footfalls
    .filter(({ confidence, alongM }) => confidence > SURE && alongM < lengthM / 2 + OVER_PIVOT_M)
    .sort((a, b) => a.fromS - b.fromS)
  const frontPaws = climb.filter(({ limb }) => limb === 'front')
  const front = stridesOf(frontPaws)
  if (front.length === 0) return TOO_FEW
  const frontS = median(front.map(({ periodS }) => periodS))
  if (front.some(({ periodS }) => Math.abs(periodS - frontS) > ALIKE * frontS)) return MISSING
  const hind = stridesOf(climb.filter(({ limb }) => limb === 'hind'))
  const isLikeHind = hind.some(({ periodS }) => Math.abs(periodS - frontS) < ALIKE * frontS)
  if (!isLikeHind && !comeEvenly(frontPaws)) return MISSING
  const lengthsM = front.map(({ strideM }) => strideM)
  if (lengthsM.some((m) => m < STRIDE_M.from || m > STRIDE_M.to)) return MISSING
  const n = lengthsM.length
  const value = lengthsM.reduce((a, b) => a + b, 0) / n
  const placeSdM = Math.hypot(...front.map(({ sdM }) => sdM)) / n
  const scatterM = n < 2 ? 0 : Math.hypot(...lengthsM.map((m) => m - value)) / Math.sqrt(n * (n - 1))
  return measured(value, Math.hypot(placeSdM, scatterM, UNSEEN_SD * value))
}

function comeEvenly(paws: readonly Footfall[]): boolean {
  if (paws.length < FEWEST_EVEN) return false
  const stepsS = paws.slice(1).map(({ fromS }, k) => fromS - paws[k]!.fromS)
  return Math.max(...stepsS) < EVEN * Math.min(...stepsS)
}

/** From each footfall to the next but one. */
function stridesOf(paws: readonly Footfall[]): { strideM: number; sdM: number; periodS: number }[] {
  return paws.slice(2).map((to, k) => {
    const from = paws[k]!
    return {
      strideM: to.alongM - from.alongM,
      sdM: Math.hypot(to.alongSdM, from.alongSdM),
      periodS: to.fromS - from.fromS,
    }
  })
}

const TOO_FEW = withheld('not-seen', 'Too few footfalls of front paws were seen on the climb.')
const MISSING = withheld('not-clear', 'A footfall on the climb may have been missed, so that the stride is not sure.')
