import { REAR_PAW_SD_M, type Contact, type DogTrack, type Footfall } from './dog-track.ts'
import { endIsSeen } from './end-in-picture.ts'
import { LEAST_SHARE, placeIn, stepAt, type PawOdds } from './paw-odds.ts'
import { STEP_S } from './paw-picture.ts'
import { isPhantom } from './phantom.ts'
import type { PlankFilm } from './plank-film.ts'
import { CLEAR, plantedPaws, type Planted } from './planted.ts'
import { stayEnd, together } from './stay-ends.ts'
import { staysOf } from './stays.ts'

/**
 * Dogs walk near the middle of the plank (common practice, no source): share of the width from the near edge, and how
 * much it varies, 1 sd.
 */
const ACROSS_SHARE = 0.5
const ACROSS_SD = 0.22
/** The network places a standing paw to about this, m, and a time to about this part of a frame. */
const PLACE_SD_M = 0.024
const FRAME_SHARE = 0.3
/** What the network was taught as a place: a bump of this sd, m. */
const TAUGHT_SD_M = 0.025
/** No paw of the largest dog is further from its centre of mass, stretched out, m (our judgement). */
const REACH_M = 0.95
/** The body's centre is known no better than this, 1 sd, m (our judgement). */
const BODY_SD_M = 0.03
/** Nothing is surer than this. */
const MOST_CONFIDENCE = 0.99
/** Lead paws of neighbouring pictures further apart than this are two paws, m: then the nearer picture's holds. */
const ANOTHER_PAW_M = 0.15
/** How far off a lead paw may be that the network hardly saw, 1 sd, m (our judgement). */
const HARDLY_SEEN_SD_M = 0.3
/** A sole is within 15 mm of the plank a little before it stands and after it has lifted, 1 sd, s (our judgement). */
const TOUCH_SD_S = 0.012
/** A doubtful paw may be no paw: then another one was the first or last, within this, s (clips of animals left out). */
const DOUBT_SD_S = 0.25
/**
 * Errors of the first and last instant are so much larger than what they are told from says (split conformal: on clips
 * of animals left out of the training the 95 % point of error by half-width was 1.39 for 57 first touches and 1.36 for
 * 46 last ones).
 */
const CALIBRATED = 1.38
/** Touches that the network does not take for part of a stay are doubtful by this, s (our judgement). */
const UNTOLD_SD_S = 0.15
/** An instant known no better than this says nothing, 1 sd, s. */
const MOST_SD_S = 0.25
/** Odds of being on the plank in the last picture above which the dog is still on, and above which it may be. */
const STILL_ON = 0.5
const MAY_BE_ON = 0.1
/** A dog whose last touch is so long ago is off, whatever the odds, s. */
const LONG_OFF_S = 0.5

/**
 * Reads the dog's stays on the plank off what the paw network saw.
 *
 * @param film strips and outlines of the stretch, one a frame
 * @param odds what the network made of its paw picture
 * @returns one track a stay, in order of time; none when no dog was on the plank
 */
export function followDog(film: PlankFilm, odds: PawOdds): DogTrack[] {
  const paws = plantedPaws(odds).filter((paw) => isOfTheDog(paw, odds))
  const stays = staysOf(paws, film.lengthM, film.ptsS[0]!).filter((stay) => !isPhantom(stay, film.strips, film.lengthM))
  return stays.map((stay, i) => trackOf(stay, film, odds, stays[i - 1] ?? null, stays[i + 1] ?? null))
}

/** False for what stands further from the body than any dog's paw reaches; true where the body is not known. */
function isOfTheDog(paw: Planted, odds: PawOdds): boolean {
  const bodies = [0.25, 0.5, 0.75]
    .map((share) => stepAt(odds, paw.fromS + share * (paw.toS - paw.fromS)))
    .map((step) => placeIn(odds.body, Math.round(step)))
    .filter((body) => body.share > LEAST_SHARE)
  return bodies.length === 0 || bodies.some((body) => Math.abs(body.alongM - paw.seenM) < REACH_M)
}

function trackOf(
  stay: readonly Planted[],
  film: PlankFilm,
  odds: PawOdds,
  before: readonly Planted[] | null,
  after: readonly Planted[] | null,
): DogTrack {
  const { ptsS } = film
  const frames = ptsS.length
  const frameS = frames > 1 ? (ptsS[frames - 1]! - ptsS[0]!) / (frames - 1) : STEP_S
  const nan = () => new Float64Array(frames).fill(NaN)
  const [leadPawM, leadPawSdM, rearPawM, rearPawSdM, bodyM, bodySdM] = [nan(), nan(), nan(), nan(), nan(), nan()]
  const footfalls = stay.map((paw) => footfallOf(paw, film, frameS))
  const onS = Math.min(...stay.map((p) => p.fromS))
  const offS = Math.max(...stay.map((p) => p.toS))
  for (let k = 0; k < frames; k++) {
    const t = ptsS[k]!
    if (t < onS - frameS || t > offS + frameS) continue
    const standing = footfalls.filter((f) => f.fromS <= t && f.toS >= t)
    const lead = leadOf(placeAt(odds.lead, odds, film, k), standing)
    if (lead !== null) {
      leadPawM[k] = lead.alongM
      leadPawSdM[k] = lead.sdM
    }
    const body = placeAt(odds.body, odds, film, k)
    if (body !== null) {
      bodyM[k] = body.alongM
      bodySdM[k] = Math.hypot(body.sdM, BODY_SD_M)
    }
    if (standing.length > 0) {
      const rear = standing.reduce((a, b) => (b.alongM < a.alongM ? b : a))
      rearPawM[k] = rear.alongM
      rearPawSdM[k] = Math.hypot(rear.alongSdM, REAR_PAW_SD_M)
    }
  }
  const onAtStart = before === null && onS <= ptsS[0]! + frameS
  const endS = ptsS[frames - 1]!
  const onAtEnd = after === null && endS - offS < LONG_OFF_S ? odds.on[odds.steps - 1]! : 0
  const stillOnAtEnd = after === null && (offS >= endS - frameS || onAtEnd > STILL_ON)
  return {
    ptsS,
    leadPawM,
    leadPawSdM,
    rearPawM,
    rearPawSdM,
    bodyM,
    bodySdM,
    footfalls,
    firstOn: onAtStart
      ? {
          kind: 'not-seen',
          reason: 'clip-ends',
          detail: 'The dog is on the plank when the clip begins: start filming earlier.',
        }
      : firstOnOf(footfalls, film, odds),
    lastOff: stillOnAtEnd
      ? {
          kind: 'not-seen',
          reason: 'still-on',
          detail: 'The dog is still on the plank when the clip ends: keep filming until it is off.',
        }
      : onAtEnd > MAY_BE_ON
        ? {
            kind: 'not-seen',
            reason: 'clip-ends',
            detail: 'The clip ends as the dog leaves the plank: keep filming until it is off.',
          }
        : lastOffOf(footfalls, film, odds),
    stillOnAtEnd,
    onAtStart,
  }
}

/** No planted front paw is ahead of the lead paw: one that clearly stands there is it. */
function leadOf(
  seen: { alongM: number; sdM: number } | null,
  standing: readonly Footfall[],
): { alongM: number; sdM: number } | null {
  const foremost = standing
    .filter((f) => f.limb === 'front' && f.confidence > CLEAR)
    .reduce<Footfall | null>((a, b) => (a === null || b.alongM > a.alongM ? b : a), null)
  if (foremost === null || (seen !== null && seen.alongM > foremost.alongM - PLACE_SD_M)) return seen
  return { alongM: foremost.alongM, sdM: foremost.alongSdM }
}

function footfallOf(paw: Planted, film: PlankFilm, frameS: number): Footfall {
  const k = frameAt(film.ptsS, (paw.fromS + paw.toS) / 2)
  const { alongM, sdM } = across(paw.seenM, film, k)
  return {
    alongM,
    alongSdM: Math.hypot(sdM, PLACE_SD_M, 0.5 * paw.scatterM),
    fromS: paw.fromS,
    fromSdS: Math.hypot(paw.fromSdS, FRAME_SHARE * frameS),
    toS: paw.toS,
    toSdS: Math.hypot(paw.toSdS, FRAME_SHARE * frameS),
    limb: paw.limb,
    confidence: Math.min(MOST_CONFIDENCE, paw.confidence),
  }
}

/** A place as it appears at the near edge, corrected for standing somewhere across the plank. */
function across(seenM: number, film: PlankFilm, frame: number): { alongM: number; sdM: number } {
  const shift = film.outlines[frame]?.farShiftM ?? [0, 0]
  const shiftM = shift[0] + (seenM / film.lengthM) * (shift[1] - shift[0])
  return { alongM: seenM - ACROSS_SHARE * shiftM, sdM: Math.abs(ACROSS_SD * shiftM) }
}

/** A map's place in a frame, between the two steps around it; null where the network does not know. */
function placeAt(
  map: Float32Array,
  odds: PawOdds,
  film: PlankFilm,
  frame: number,
): { alongM: number; sdM: number } | null {
  const step = stepAt(odds, film.ptsS[frame]!)
  const low = Math.floor(step)
  const a = placeIn(map, low)
  const b = placeIn(map, Math.min(odds.steps - 1, low + 1))
  const near = step - low < 0.5 ? a : b
  if (near.share < LEAST_SHARE) return null
  const seenM =
    Math.abs(a.alongM - b.alongM) < ANOTHER_PAW_M ? a.alongM + (step - low) * (b.alongM - a.alongM) : near.alongM
  const corrected = across(seenM, film, frame)
  const spreadM = Math.sqrt(Math.max(0, near.sdM ** 2 - TAUGHT_SD_M ** 2))
  return {
    alongM: corrected.alongM,
    sdM: Math.hypot(corrected.sdM, spreadM, PLACE_SD_M, HARDLY_SEEN_SD_M * (1 - near.share)),
  }
}

function frameAt(ptsS: Float64Array, atS: number): number {
  let k = 0
  while (k + 1 < ptsS.length && ptsS[k + 1]! <= atS) k++
  return k
}

function firstOnOf(footfalls: readonly Footfall[], film: PlankFilm, odds: PawOdds): Contact {
  const foot = footfalls.reduce((a, b) => (b.fromS < a.fromS ? b : a))
  if (!endIsSeen(film, frameAt(film.ptsS, foot.fromS), 0)) return outOfPicture('entry')
  return contactAt(foot, foot.fromS, foot.fromSdS, odds, 'on')
}

function lastOffOf(footfalls: readonly Footfall[], film: PlankFilm, odds: PawOdds): Contact {
  const foot = footfalls.reduce((a, b) => (b.toS > a.toS ? b : a))
  if (!endIsSeen(film, frameAt(film.ptsS, foot.toS), film.lengthM)) return outOfPicture('exit')
  return contactAt(foot, foot.toS, foot.toSdS, odds, 'off')
}

/** The stay's end as its outermost touch and the network's odds of being on the plank tell it together. */
function contactAt(foot: Footfall, touchS: number, touchSdS: number, odds: PawOdds, end: 'on' | 'off'): Contact {
  const touch = { atS: touchS, sdS: Math.hypot(touchSdS, TOUCH_SD_S, doubt(foot)) }
  const told = stayEnd(odds, touchS, end)
  const { atS, sdS: saidS } =
    told === null ? { ...touch, sdS: Math.hypot(touch.sdS, UNTOLD_SD_S) } : together(touch, told)
  const sdS = CALIBRATED * saidS
  if (sdS > MOST_SD_S) {
    return {
      kind: 'not-seen',
      reason: 'hidden',
      detail: `When the dog got ${end} cannot be told to half a second: it was hidden or hardly stands out there.`,
    }
  }
  return { kind: 'seen', atS, sdS, alongM: foot.alongM, alongSdM: foot.alongSdM }
}

function doubt({ confidence }: Footfall): number {
  return DOUBT_SD_S * (1 - confidence)
}

function outOfPicture(end: 'entry' | 'exit'): Contact {
  return {
    kind: 'not-seen',
    reason: 'out-of-picture',
    detail: `The ${end} end of the plank is outside the picture: film from further back.`,
  }
}
