import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import { type Estimate, measured, withheld } from '../estimate.ts'
import { applyHomography, invertHomography } from '../geometry/homography.ts'
import { robustSd, tukeyWeight } from '../numeric/robust.ts'
import { type DogLikeness } from '../silhouette/dog-likeness.ts'
import { HEIGHTS_M, PLACE_COLUMNS } from '../silhouette/placed-look.ts'
import { entryEndXM } from './approach-grids.ts'
import type { BodyPath } from './body-path.ts'
import type { EntryLine } from './entry-line.ts'

/** The speed is taken over the last metre before the plank, or at least over this much of it, m. */
export const APPROACH_M = 1
const LEAST_M = 0.55
/** A look that shows less of the dog than this, or of the picture where the dog should be, tells no place. */
const LEAST_SHOWN = 0.35
const LEAST_IN_SIGHT = 0.84
/** Nearer to the plank than this the fore paws begin to climb, and the level likeness lags behind the dog; m. */
const CLIMBS_FROM_M = -0.28
/** About each end of the stretch the way is straight over this, m, and told by so many looks. */
const STRAIGHT_M = 0.6
const FEWEST_LOOKS = 3
/** What shows the middle of the body in so many frames is its trunk. */
const TRUNK_SHARE = 0.8
/** The body's place is known no better than this, 1 sd, m; its scatter about the way is shared between looks. */
const PLACE_SD_M = 0.03
const SCATTER_SHARE = 0.7
/** Lengths along the plank's line are known to this share. */
const SCALE_SD = 0.01
/** How much faster or slower a dog may go in the part that was not seen, in shares. */
const UNSEEN_SD = 0.12
/** Known no better than this, a speed is not told: 1 sd, in shares. */
const MOST_SD = 0.13
/** So scattered, something else was followed, m. */
const MOST_SCATTER_M = 0.12
/** When the first paw gets on, the body's centre is so far before the plank: toy to giant, stretched out, m (our judgement). */
const AT_FIRST_PAW_M = { from: -1.1, to: 0.15 }

/**
 * Mean speed of the body's centre along the plank's line over the last metre before the plank.
 *
 * @param path where the body appears in the upright plane through the plank's middle line
 * @param line of the run up: beside that plane the body is nearer or further than it appears
 * @param dog what it looks like: its trunk's height
 * @param camera calibrated
 * @param firstOnS when the first paw got on, s
 * @returns m/s; withheld where less than about half a metre is seen
 */
export function entrySpeed(
  path: BodyPath,
  line: EntryLine,
  dog: DogLikeness,
  camera: SeesawCamera,
  firstOnS: number,
): Estimate {
  const heightM = trunkHeight(dog)
  const perAside = apparentPerAside(camera, heightM)
  const [sin, cos] = [Math.sin(-camera.restAngleRad), Math.cos(camera.restAngleRad)]
  const places = Array.from(path.aheadM, (apparentM, k) => {
    const asideM = line.offsetM - line.slope * apparentM
    const aheadM = apparentM - perAside(apparentM) * asideM
    return {
      atS: path.ptsS[k]!,
      aheadM,
      alongM: aheadM * cos + heightM * sin,
      isShown: path.shown[k]! > LEAST_SHOWN && path.inSight[k]! > LEAST_IN_SIGHT,
    }
  })
  const atFirstPaw = nearest(places, firstOnS)
  if (atFirstPaw === null) return UNSEEN
  if (!(atFirstPaw.aheadM > AT_FIRST_PAW_M.from && atFirstPaw.aheadM < AT_FIRST_PAW_M.to)) return OTHER
  const seen = seenRun(places, atFirstPaw)
  const fromM = Math.max(-APPROACH_M, Math.min(...seen.map(({ alongM }) => alongM)) + STRAIGHT_M / 4)
  if (!(fromM < -LEAST_M)) return OUT_OF_PICTURE
  const start = passing(seen, fromM)
  const end = passing(seen, 0)
  if (start === null || end === null || !(end.atS > start.atS)) return UNSEEN
  const scatterM = Math.max(start.scatterM, end.scatterM)
  if (scatterM > MOST_SCATTER_M) return UNSEEN
  const wayM = -fromM
  const speedMps = wayM / (end.atS - start.atS)
  const placeSdM = Math.SQRT2 * Math.hypot(PLACE_SD_M, SCATTER_SHARE * scatterM)
  const sideways = perAside(-0.6) * line.slopeSd
  const unseen = UNSEEN_SD * (APPROACH_M - wayM)
  const sdShare = Math.hypot(placeSdM / wayM, sideways, SCALE_SD, unseen)
  return sdShare > MOST_SD ? NOT_SURE : measured(speedMps, sdShare * speedMps)
}

interface Place {
  readonly atS: number
  readonly aheadM: number
  readonly alongM: number
  readonly isShown: boolean
}

function nearest(places: readonly Place[], atS: number): Place | null {
  return places.reduce<Place | null>(
    (best, one) => (best === null || Math.abs(one.atS - atS) < Math.abs(best.atS - atS) ? one : best),
    null,
  )
}

/** The places without a gap up to the first paw and on until the climb begins. */
function seenRun(places: readonly Place[], atFirstPaw: Place): readonly Place[] {
  let from = places.indexOf(atFirstPaw)
  while (from > 0 && places[from - 1]!.isShown) from--
  return places.slice(from).filter(({ aheadM, isShown }) => isShown && aheadM < CLIMBS_FROM_M)
}

/** When the body passes a place: the straight line, by robust least squares, through the way about it. */
function passing(places: readonly Place[], alongM: number): { readonly atS: number; readonly scatterM: number } | null {
  const about = places.filter((place) => Math.abs(place.alongM - alongM) < STRAIGHT_M)
  if (about.length < FEWEST_LOOKS) return null
  let weights = about.map(() => 1)
  let line = { atS: NaN, mps: NaN }
  let off: number[] = []
  for (let round = 0; round < 4; round++) {
    const total = weights.reduce((a, b) => a + b, 0)
    const meanS = about.reduce((sum, { atS }, i) => sum + weights[i]! * atS, 0) / total
    const meanM = about.reduce((sum, place, i) => sum + weights[i]! * place.alongM, 0) / total
    const ss = about.reduce((sum, { atS }, i) => sum + weights[i]! * (atS - meanS) ** 2, 0)
    const sm = about.reduce((sum, { atS, alongM: m }, i) => sum + weights[i]! * (atS - meanS) * (m - meanM), 0)
    const mps = sm / ss
    if (!(mps > 0)) return null
    line = { atS: meanS + (alongM - meanM) / mps, mps }
    off = about.map((place) => place.alongM - meanM - mps * (place.atS - meanS))
    const scale = Math.max(0.01, robustSd(off))
    weights = off.map((value) => Math.max(1e-3, tukeyWeight(value / scale)))
  }
  return {
    atS: line.atS,
    scatterM: Math.max(robustSd(off), Math.sqrt(off.reduce((a, b) => a + b * b, 0) / off.length) / 2),
  }
}

/** Mean height over the ground of what surely is the dog, m. */
function trunkHeight({ shape }: DogLikeness): number {
  let [sum, weight] = [0, 0]
  shape.forEach((share, i) => {
    if (share < TRUNK_SHARE) return
    sum += HEIGHTS_M[Math.floor(i / PLACE_COLUMNS)]!
    weight++
  })
  return weight === 0 ? 0.35 : sum / weight
}

/** How far along something appears to go in the upright plane when it goes a metre towards the camera, by where it is, m per m. */
function apparentPerAside(camera: SeesawCamera, heightM: number): (aheadM: number) => number {
  const entryXM = entryEndXM(camera)
  const middleM = camera.widthM / 2
  const planeFromImage = invertHomography(camera.worldHomography(middleM))
  return (aheadM) => {
    const { xPx, yPx } = camera.imageFromWorld({ xM: entryXM + aheadM, yM: heightM, acrossM: middleM - 0.1 })
    const [xM] = applyHomography(planeFromImage, xPx, yPx)
    return (xM - entryXM - aheadM) / 0.1
  }
}

const UNSEEN = withheld('hidden', 'The dog could not be followed clearly over the last metre before the plank.')
const OTHER = withheld(
  'hidden',
  'What was followed before the plank may be somebody else: keep the run up free of others.',
)
const NOT_SURE = withheld(
  'not-clear',
  'How far aside the dog ran is not known well enough to tell its speed before the plank: film from chest height or higher.',
)
const OUT_OF_PICTURE = withheld(
  'out-of-picture',
  'The dog was not seen over the last metre before the plank: film more of its run.',
)
