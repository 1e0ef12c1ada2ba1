import type { Footfall } from '../dog/dog-track.ts'
import type { RideFootfall } from './ride.ts'

/** Events that a person can set by hand; the sound of the landing is as it was heard. */
export type CorrectableEvent = 'firstOn' | 'tipStart' | 'grounded' | 'settled' | 'left'
export const CORRECTABLE_EVENTS: readonly CorrectableEvent[] = ['firstOn', 'tipStart', 'settled', 'grounded', 'left']

/** `atS` in s of real time. */
export type EventCorrection = { kind: 'at'; atS: number } | { kind: 'did-not-happen' }

/** A paw contact as a person sets it: m along, s of real time. */
export type HandFootfall = Pick<RideFootfall, 'alongM' | 'fromS' | 'toS' | 'limb'>

export type ZoneName = 'up' | 'down'
export type ZoneByEye = 'touched' | 'missed'

/** What a person has set by hand over the measured ride. */
export interface Corrections {
  events: { [Event in CorrectableEvent]?: EventCorrection }
  footfalls: {
    /** By index among the measured footfalls. */
    changed: { index: number; footfall: HandFootfall }[]
    struckOut: number[]
    added: HandFootfall[]
  }
  /** Judged by eye, over everything else. */
  zones: { [Zone in ZoneName]?: ZoneByEye }
}

/** Nothing is set by hand. */
export const NO_CORRECTIONS: Corrections = {
  events: {},
  footfalls: { changed: [], struckOut: [], added: [] },
  zones: {},
}

/** Which footfall of a corrected ride is which. */
export type FootfallOrigin =
  | { readonly kind: 'measured'; readonly index: number; readonly isChanged: boolean }
  | { readonly kind: 'added'; readonly index: number }

/** How many things are set by hand; 0 for a ride as `corrections` found it, and the count is 1 for one moved event. */
export function correctionCount({ events, footfalls, zones }: Corrections): number {
  const set = [...Object.values(events), ...Object.values(zones)].filter((one) => one !== undefined)
  return set.length + footfalls.changed.length + footfalls.struckOut.length + footfalls.added.length
}

/** The same `corrections` with one `event` set by hand, or as measured again when `correction` is null. */
export function withEvent(
  corrections: Corrections,
  event: CorrectableEvent,
  correction: EventCorrection | null,
): Corrections {
  const events = { ...corrections.events }
  if (correction === null) delete events[event]
  else events[event] = correction
  return { ...corrections, events }
}

/** The same `corrections` with one `zone` judged by eye, or as measured again when `verdict` is null. */
export function withZone(corrections: Corrections, zone: ZoneName, verdict: ZoneByEye | null): Corrections {
  const zones = { ...corrections.zones }
  if (verdict === null) delete zones[zone]
  else zones[zone] = verdict
  return { ...corrections, zones }
}

/** The same `corrections` with the paw contact of this `origin` set to `footfall`. */
export function withFootfall(corrections: Corrections, origin: FootfallOrigin, footfall: HandFootfall): Corrections {
  const { changed, struckOut, added } = corrections.footfalls
  if (origin.kind === 'added') {
    return {
      ...corrections,
      footfalls: { changed, struckOut, added: added.map((f, i) => (i === origin.index ? footfall : f)) },
    }
  }
  const others = changed.filter(({ index }) => index !== origin.index)
  return { ...corrections, footfalls: { struckOut, added, changed: [...others, { index: origin.index, footfall }] } }
}

/** The same `corrections` with one more paw contact, `footfall`. */
export function withAddedFootfall(corrections: Corrections, footfall: HandFootfall): Corrections {
  const { footfalls } = corrections
  return { ...corrections, footfalls: { ...footfalls, added: [...footfalls.added, footfall] } }
}

/** The same `corrections` without the paw contact of this `origin`: a measured one is struck out, an added one forgotten. */
export function withoutFootfall(corrections: Corrections, origin: FootfallOrigin): Corrections {
  const { changed, struckOut, added } = corrections.footfalls
  if (origin.kind === 'added') {
    return { ...corrections, footfalls: { changed, struckOut, added: added.filter((_, i) => i !== origin.index) } }
  }
  const others = changed.filter(({ index }) => index !== origin.index)
  return { ...corrections, footfalls: { changed: others, added, struckOut: [...struckOut, origin.index] } }
}

/** The same `corrections` with the measured paw contact of this `index` as it was measured. */
export function withMeasuredFootfall(corrections: Corrections, index: number): Corrections {
  const { changed, struckOut, added } = corrections.footfalls
  return {
    ...corrections,
    footfalls: {
      added,
      changed: changed.filter((one) => one.index !== index),
      struckOut: struckOut.filter((one) => one !== index),
    },
  }
}

/** A footfall and where it comes from. */
export interface TracedFootfall {
  readonly footfall: Footfall
  readonly origin: FootfallOrigin
}

/** Place of a paw read off the picture by eye, 1 sd, m; where across the plank it stands is not known (common practice, no source). */
const BY_EYE_SD_M = 0.03

/**
 * The footfalls that hold once a person has corrected them, in the order of their first touch.
 *
 * @param measured as measured, m along and s
 * @param corrections by index in `measured`; indices beyond its end are passed over
 * @param sdS spread of a moment that is set by hand, s
 * @returns a changed place is as sure as one read by eye, a changed time as one frame, and a person is believed
 */
export function correctedFootfalls(
  measured: readonly Footfall[],
  corrections: Corrections['footfalls'],
  sdS: (atS: number) => number,
): readonly TracedFootfall[] {
  const struckOut = new Set(corrections.struckOut)
  const changed = new Map(corrections.changed.map(({ index, footfall }) => [index, footfall]))
  const kept = measured.flatMap((footfall, index): TracedFootfall[] => {
    if (struckOut.has(index)) return []
    const byHand = changed.get(index)
    if (byHand === undefined) return [{ footfall, origin: { kind: 'measured', index, isChanged: false } }]
    const { alongM, fromS, toS, limb } = byHand
    return [
      {
        footfall: {
          alongM,
          alongSdM: alongM === footfall.alongM ? footfall.alongSdM : Math.max(BY_EYE_SD_M, footfall.alongSdM),
          fromS,
          fromSdS: fromS === footfall.fromS ? footfall.fromSdS : sdS(fromS),
          toS,
          toSdS: toS === footfall.toS ? footfall.toSdS : sdS(toS),
          limb,
          confidence: 1,
        },
        origin: { kind: 'measured', index, isChanged: true },
      },
    ]
  })
  const added = corrections.added.map((byHand, index): TracedFootfall => ({
    footfall: { ...byHand, alongSdM: BY_EYE_SD_M, fromSdS: sdS(byHand.fromS), toSdS: sdS(byHand.toS), confidence: 1 },
    origin: { kind: 'added', index },
  }))
  if (changed.size === 0 && added.length === 0) return kept
  return [...kept, ...added].sort((a, b) => a.footfall.fromS - b.footfall.fromS)
}

/**
 * What is wrong with corrections that are each well formed.
 *
 * @param corrections as a person set them; @param footfallCount how many paw contacts were measured
 * @returns a sentence; null for corrections that can be of this ride
 */
export function correctionsFault({ footfalls }: Pick<Corrections, 'footfalls'>, footfallCount: number): string | null {
  const indices = [...footfalls.changed.map(({ index }) => index), ...footfalls.struckOut]
  const beyond = indices.find((index) => index >= footfallCount)
  if (beyond !== undefined) {
    return `footfalls must be among the ${footfallCount} measured ones, got number ${beyond}: open the ride again`
  }
  const twice = indices.find((index, k) => indices.indexOf(index) !== k)
  if (twice !== undefined) return `footfalls must be corrected once each, got number ${twice} twice`
  const set = [...footfalls.changed.map(({ footfall }) => footfall), ...footfalls.added]
  const backwards = set.find(({ fromS, toS }) => toS < fromS)
  if (backwards === undefined) return null
  return `a footfall must end after it begins, got ${backwards.fromS} s to ${backwards.toS} s`
}
