import type { Ride } from '../ride/ride.ts'

/** The bodies whose rules for the seesaw we know something of. */
export const RULE_BOOKS = ['uk', 'fci', 'akc', 'usdaa'] as const
export type RuleBook = (typeof RULE_BOOKS)[number]

/** One rule held against one ride. */
export interface RuleFinding {
  readonly outcome: 'kept' | 'broken' | 'unclear'
  /** What the rule asks and what the ride shows, a sentence. */
  readonly sentence: string
}

/** A ride held against one body's rules, with where we know them from and how far that is to be trusted. */
export interface RuleReading {
  readonly findings: readonly RuleFinding[]
  readonly source: string
}

type Facts = Pick<Ride, 'zones' | 'leaving'>

/**
 * Holds a ride against what a body's rules ask of a dog on the seesaw. The judge decides, not the video.
 *
 * @param book whose rules
 * @param ride its zone and leaving verdicts
 * @returns zones first, then leaving; unclear wherever the ride's own verdict is
 */
export function byTheRules(book: RuleBook, ride: Facts): RuleReading {
  return { findings: [...zoneFindings(book, ride), leavingFinding(book, ride)], source: SOURCES[book] }
}

/**
 * UK: national regulations H(1)(B)3.m for touching, the rest from memory. FCI: national club summaries, 2024. AKC:
 * agility regulations as quoted on club pages, and a judges' ruling in a 2012 magazine. USDAA: its training page.
 */
const SOURCES: Record<RuleBook, string> = {
  uk: 'UK national regulations for the zones; the rest from memory.',
  fci: 'National summaries of the FCI rules, 2024.',
  akc: 'AKC regulations as club pages quote them, and a ruling of 2012.',
  usdaa: 'The USDAA training page for leaving; the zones from memory.',
}

function zoneFindings(book: RuleBook, { zones }: Facts): RuleFinding[] {
  const up = touched(zones.up.verdict, 'the up contact')
  const seldom = book === 'fci' && up.outcome === 'broken'
  const shownUp = seldom ? { ...up, sentence: `${up.sentence} It is seldom called unless it is plain.` } : up
  if (book !== 'akc') return [shownUp, touched(zones.down.verdict, 'the down contact')]
  return [shownUp, downAfterGround(zones.down)]
}

function touched(verdict: Ride['zones']['up']['verdict'], zone: string): RuleFinding {
  switch (verdict) {
    case 'touched':
      return { outcome: 'kept', sentence: `A paw must touch ${zone}: it did.` }
    case 'missed':
      return { outcome: 'broken', sentence: `A paw must touch ${zone}: none did.` }
    case 'unsure':
      return { outcome: 'unclear', sentence: `A paw must touch ${zone}: the clip does not tell.` }
  }
}

/** AKC wants the down contact touched once the board has hit the ground; the first contact with the ground counts. */
function downAfterGround({ verdict, touchedAfterGround }: Ride['zones']['down']): RuleFinding {
  const rule = 'A paw must touch the down contact after the board has hit the ground'
  if (verdict === 'missed' || touchedAfterGround === 'no') return { outcome: 'broken', sentence: `${rule}: none did.` }
  if (touchedAfterGround === 'yes') return { outcome: 'kept', sentence: `${rule}: it did.` }
  return { outcome: 'unclear', sentence: `${rule}: the clip does not tell.` }
}

const EARLY: Record<RuleBook, string> = {
  uk: 'Leaving before the board lands is a fault',
  fci: 'Leaving before the end touches the ground is a fault',
  akc: 'The dog must still be on when the board lands',
  usdaa: 'Leaving after the tilt has begun and before the board lands is the fly-off penalty',
}

function leavingFinding(book: RuleBook, { leaving }: Facts): RuleFinding {
  switch (leaving.verdict) {
    case 'after-ground':
      return { outcome: 'kept', sentence: `${EARLY[book]}: it left after the landing.` }
    case 'before-ground':
      return { outcome: 'broken', sentence: `${EARLY[book]}: it left before.` }
    case 'before-tip':
      return beforeTip(book)
    case 'too-close':
      return { outcome: 'unclear', sentence: `${EARLY[book]}: too close to tell.` }
    case 'not-seen':
      return { outcome: 'unclear', sentence: `${EARLY[book]}: the clip does not show it.` }
  }
}

function beforeTip(book: RuleBook): RuleFinding {
  switch (book) {
    case 'usdaa':
      return { outcome: 'broken', sentence: 'Leaving before the tilt is a refusal: it did.' }
    case 'fci':
      return {
        outcome: 'broken',
        sentence: 'Leaving before all paws have passed the axis is a refusal: it left before the board tipped.',
      }
    case 'uk':
    case 'akc':
      return { outcome: 'unclear', sentence: 'It left before the board tipped: ask what your rule book says.' }
  }
}
