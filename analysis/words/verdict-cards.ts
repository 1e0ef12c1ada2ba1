import type { Estimate, Measured } from '../estimate.ts'
import type { DownZoneResult, Ride, ZoneResult } from '../ride/ride.ts'
import {
  acrossLandingInWords,
  capitalised,
  evenMarginInWords,
  fixed,
  inUnit,
  quantityInWords,
  sideOfLandingInWords,
} from './in-words.ts'
import { lengthDisplay, type Units } from './units.ts'

/** One verdict as it is shown: a word, a shape that says the same, and the facts behind it. */
export interface VerdictCard {
  readonly title: string
  readonly word: string
  /** `sure`: a full disc with a tick; `against`: a ring with a bar; `open`: a broken ring. */
  readonly shape: 'sure' | 'against' | 'open'
  readonly sentences: readonly string[]
  /** The measured number behind the verdict, for a small scale; null when there is none. */
  readonly scale: { readonly kind: 'up' | 'down' | 'leaving'; readonly value: Measured } | null
}

/** The verdicts of a `ride`, in its order: up contact, down contact, leaving; lengths are told in `units`. */
export function verdictCards(ride: Ride, units: Units = 'metric'): readonly VerdictCard[] {
  return [upCard(ride.zones.up, units), downCard(ride.zones.down, units), leavingCard(ride)]
}

/** Verdict `cards` in the order in which people ask: leaving, then up and down contact. */
export function leavingFirst(cards: readonly VerdictCard[]): readonly VerdictCard[] {
  return [...cards.slice(2), ...cards.slice(0, 2)]
}

function upCard(zone: ZoneResult, units: Units): VerdictCard {
  return { title: 'Up contact', ...zoneWords(zone, units), ...zoneScale(zone, 'up') }
}

function downCard(zone: DownZoneResult, units: Units): VerdictCard {
  const words = zoneWords(zone, units)
  const after = {
    yes: 'A paw was in it after the landing.',
    no: 'No paw was in it after the landing.',
    unsure: 'Whether a paw was in it after the landing is unsure.',
  }[zone.touchedAfterGround]
  const sentences = zone.verdict === 'missed' ? words.sentences : [...words.sentences, after]
  return { title: 'Down contact', ...words, sentences, ...zoneScale(zone, 'down') }
}

function zoneWords(zone: ZoneResult, units: Units): Pick<VerdictCard, 'word' | 'shape' | 'sentences'> {
  const sentences = [deepestPaw(zone, units), times(zone)].filter((sentence) => sentence !== null)
  switch (zone.verdict) {
    case 'touched':
      return { word: 'touched', shape: 'sure', sentences }
    case 'missed':
      return { word: 'missed', shape: 'against', sentences }
    case 'unsure':
      return { word: 'unsure', shape: 'open', sentences: [...sentences, ...whyUnsure(zone)] }
  }
}

/** What keeps an unsure zone from being decided, and what a person can do about it. */
function whyUnsure({ clearanceM }: ZoneResult): readonly string[] {
  if (clearanceM.kind !== 'measured') return []
  const [deepest, shallowest] = clearanceM.ci95
  if (deepest < 0 && shallowest > 0) return ['Too near the border to tell.']
  if (clearanceM.value > 0) return ['A paw may have touched it unseen: look at the frames and judge by eye.']
  return ['Whether that paw stood there is not sure: look at the frames and judge by eye.']
}

function deepestPaw({ clearanceM, verdict }: ZoneResult, units: Units): string | null {
  if (clearanceM.kind === 'withheld') return verdict === 'unsure' ? clearanceM.detail : null
  const inside = clearanceM.value <= 0
  const told = lengthDisplay(units)
  const distance = quantityInWords(Math.abs(clearanceM.value), told)
  const margin = clearanceM.kind === 'measured' ? ` ${evenMarginInWords(inUnit(clearanceM, told), told.decimals)}` : ''
  return `${inside ? 'Deepest' : 'Nearest'} paw ${distance}${margin} ${inside ? 'inside' : 'outside'}.`
}

function times({ first, last }: ZoneResult): string | null {
  if (first.kind === 'withheld') return null
  if (last.kind === 'measured') return `Paws in it from ${fixed(first.value, 2)} s to ${fixed(last.value, 2)} s.`
  return `Paws in it from ${fixed(first.value, 2)} s on.`
}

function zoneScale({ clearanceM }: ZoneResult, kind: 'up' | 'down'): Pick<VerdictCard, 'scale'> {
  return { scale: clearanceM.kind === 'measured' ? { kind, value: clearanceM } : null }
}

function leavingCard(ride: Ride): VerdictCard {
  const margin = ride.measures.leavingMarginS
  const scale = margin.kind === 'measured' ? ({ kind: 'leaving', value: margin } as const) : null
  const card = { title: 'Leaving', scale, sentences: leavingSentences(margin) }
  switch (ride.leaving.verdict) {
    case 'after-ground':
      return { ...card, word: 'after the landing', shape: 'sure' }
    case 'before-ground':
      return { ...card, word: 'before the landing', shape: 'against' }
    case 'before-tip':
      return { ...card, word: 'before the tip', shape: 'against', sentences: [] }
    case 'too-close':
      return { ...card, word: 'too close to call', shape: 'open' }
    case 'not-seen':
      return { ...card, word: 'not seen', shape: 'open' }
  }
}

function leavingSentences(margin: Estimate): readonly string[] {
  switch (margin.kind) {
    case 'measured': {
      const [lo, hi] = margin.ci95
      if (lo < 0 && hi > 0) return [`${capitalised(acrossLandingInWords(margin.ci95))} the landing.`]
      return [
        `Left ${fixed(Math.abs(margin.value), 2)} s ${evenMarginInWords(margin, 2)} ${sideOfLandingInWords(margin.value)}.`,
      ]
    }
    case 'atLeast':
      return [`Still on ${fixed(margin.value, 2)} s after the landing, when the clip ended.`]
    case 'withheld':
      return [margin.detail]
  }
}
