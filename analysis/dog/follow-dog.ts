import type { PlankOutline } from '../board/plank-outline.ts'
import { contactBand, type ContactBand } from './contact-band.ts'
import { dogCorridor } from './corridor.ts'
import type { Contact, DogTrack, Footfall } from './dog-track.ts'
import { findFeet, type Foot } from './feet.ts'
import { foremostLow, leadPawIn } from './lead-paw.ts'
import { findStays, pawSpreadM, type Stay } from './stay.ts'
import type { Strip, StripGrid } from './strip.ts'

/** Everything about the band along the plank that the dog is found from; arrays have one element a frame. */
export interface PlankFilm {
  readonly ptsS: Float64Array
  readonly grid: StripGrid
  /** null where the plank was not followed. */
  readonly strips: readonly (Strip | null)[]
  readonly outlines: readonly (PlankOutline | null)[]
  readonly lengthM: number
  /** Height of the turning axis over the ground, m. */
  readonly axisHeightM: number
}

/** Around the pivot the base, and below this height over the ground shadows, show under the plank, m. */
const BASE_M = 0.3
const SHADOW_M = 0.3

/**
 * Finds the dog's stays on the plank and where it is in each.
 *
 * @param film strips and outlines of the stretch, one a frame
 * @returns one track a stay, in order of time; none when no dog was on the plank
 */
export function followDog(film: PlankFilm): DogTrack[] {
  const band = bandOf(film)
  const feet = findFeet(band, film.strips, film.grid, film.outlines, film.lengthM)
  const corridor = dogCorridor(band, feet, film.lengthM, (foot) => foot.likeness)
  return findStays(feet, corridor, film.ptsS, film.lengthM).map((stay) => trackOf(stay, film))
}

/** The band of feet of a film; exported for pictures of it. */
export function bandOf(film: PlankFilm): ContactBand {
  const { outlines, lengthM, strips } = film
  const on = (values: readonly [number, number], alongM: number) =>
    values[0] + (alongM / lengthM) * (values[1] - values[0])
  return contactBand(
    strips,
    film.ptsS,
    film.grid,
    (k, alongM) => Math.max(0, on(outlines[k]!.farTopM, alongM)),
    (k, alongM) => on(outlines[k]!.bottomM, alongM),
    (k, alongM) =>
      Math.abs(alongM - lengthM / 2) > BASE_M &&
      film.axisHeightM - Math.sin(strips[k]!.angleRad) * (alongM - lengthM / 2) > SHADOW_M,
  )
}

function trackOf(stay: Stay, film: PlankFilm): DogTrack {
  const { ptsS, lengthM, outlines } = film
  const frames = ptsS.length
  const nan = () => new Float64Array(frames).fill(NaN)
  const [leadPawM, leadPawSdM, rearPawM, rearPawSdM, bodyM, bodySdM] = [nan(), nan(), nan(), nan(), nan(), nan()]
  const first = Math.min(...stay.feet.map((f) => f.fromFrame))
  const last = Math.max(...stay.feet.map((f) => f.toFrame))
  const size = pawSpreadM(stay.feet, ptsS)
  const pawReachM = Math.min(0.25, Math.max(0.07, 0.35 * size))
  for (let k = first; k <= Math.min(frames - 1, last + 1); k++) {
    const outline = outlines[k]
    const top = (alongM: number) =>
      outline == null
        ? 0
        : Math.max(0, outline.farTopM[0] + (alongM / lengthM) * (outline.farTopM[1] - outline.farTopM[0]))
    const strip = film.strips[k] ?? null
    const lead = leadPawIn(k, ptsS, stay.feet, (fromM, toM) =>
      strip === null ? null : foremostLow(strip, film.grid, fromM, toM, top, pawReachM),
    )
    if (lead !== null) {
      leadPawM[k] = lead.alongM
      leadPawSdM[k] = lead.sdM
    }
    const standing = stay.feet.filter((f) => f.fromFrame <= k && f.toFrame >= k)
    if (standing.length > 0) {
      const rear = standing.reduce((a, b) => (b.alongM < a.alongM ? b : a))
      rearPawM[k] = rear.alongM
      rearPawSdM[k] = Math.hypot(rear.alongSdM, 0.04)
    }
    const middle = stay.gait.middleM[k]!
    if (!Number.isNaN(middle)) {
      // The centre of mass lies 0.42 of the way from fore to hind paws, the middle 0.5.
      bodyM[k] = middle + 0.08 * stay.gait.trunkM
      bodySdM[k] = 0.06
    }
  }
  const frameS = frames > 1 ? (ptsS[frames - 1]! - ptsS[0]!) / (frames - 1) : 0.04
  const footfalls = stay.feet
    .map((foot, i): Footfall => {
      const sd = 0.4 * frameS + 0.008
      return {
        alongM: foot.alongM,
        alongSdM: foot.alongSdM,
        fromS: borderS(ptsS, foot.fromFrame - 1),
        fromSdS: sd,
        toS: borderS(ptsS, foot.toFrame),
        toSdS: sd,
        limb: stay.gait.limbs[i] === 1 ? 'front' : 'hind',
        confidence: Math.min(0.99, foot.likeness),
      }
    })
    .sort((a, b) => a.fromS - b.fromS)
  const stillOnAtEnd = last >= frames - 2
  const onAtStart = first <= 1
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
      : contactAt(stay.feet, film, first, 'first', frameS),
    lastOff: stillOnAtEnd
      ? {
          kind: 'not-seen',
          reason: 'still-on',
          detail: 'The dog is still on the plank when the clip ends: keep filming until it is off.',
        }
      : contactAt(stay.feet, film, last, 'last', frameS),
    stillOnAtEnd,
    onAtStart,
  }
}

/** Middle between a frame and the next one, s; half a frame beyond at the ends. */
function borderS(ptsS: Float64Array, frame: number): number {
  const last = ptsS.length - 1
  if (frame < 0) return ptsS[0]! - (ptsS[1]! - ptsS[0]!) / 2
  if (frame >= last) return ptsS[last]! + (ptsS[last]! - ptsS[last - 1]!) / 2
  return (ptsS[frame]! + ptsS[frame + 1]!) / 2
}

function contactAt(
  feet: readonly Foot[],
  film: PlankFilm,
  frame: number,
  which: 'first' | 'last',
  frameS: number,
): Contact {
  const foot =
    which === 'first'
      ? feet.reduce((a, b) => (b.fromFrame < a.fromFrame ? b : a))
      : feet.reduce((a, b) => (b.toFrame > a.toFrame ? b : a))
  const endM = which === 'first' ? 0 : film.lengthM
  if (!endIsSeen(film, frame, endM)) {
    const end = which === 'first' ? 'entry' : 'exit'
    return {
      kind: 'not-seen',
      reason: 'out-of-picture',
      detail: `The ${end} end of the plank is outside the picture: film from further back.`,
    }
  }
  const doubt = 0.04 * (1 - foot.likeness)
  return {
    kind: 'seen',
    atS: borderS(film.ptsS, which === 'first' ? frame - 1 : frame),
    sdS: Math.hypot(0.45 * frameS, 0.008, doubt),
    alongM: foot.alongM,
    alongSdM: foot.alongSdM,
  }
}

/** True when at least half of the last 30 cm of an end is in the picture in a frame. */
function endIsSeen(film: PlankFilm, frame: number, endM: number): boolean {
  const strip = film.strips[frame]
  if (strip == null) return false
  const { grid } = film
  const row = Math.round((0.05 - grid.fromAboveM) / grid.cellM)
  const from = Math.round(((endM === 0 ? 0 : endM - 0.3) - grid.fromAlongM) / grid.cellM)
  const count = Math.round(0.3 / grid.cellM)
  let seen = 0
  for (let c = from; c < from + count; c++) if (strip.strangeness[row * grid.columns + c] !== 255) seen++
  return seen > count / 2
}
