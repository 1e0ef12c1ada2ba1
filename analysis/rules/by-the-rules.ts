import type { Ride } from '../ride/ride.ts'
import type { DogRules, RuleSet } from './rule-sets.ts'
import { sourceInWords } from './rule-words.ts'

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
 * @param rules whose rules
 * @param ride its zone and leaving verdicts
 * @returns zones first, then leaving; unclear wherever the ride's own verdict is; nothing where the rules are not known
 */
export function byTheRules({ dog }: Pick<RuleSet, 'dog'>, ride: Facts): RuleReading {
  if (dog === null) return { findings: [], source: '' }
  const { zones, leaving } = dog
  const source =
    zones.source === leaving.source
      ? `${sourceInWords(zones.source)}.`
      : `Zones: ${sourceInWords(zones.source)}. Leaving: ${sourceInWords(leaving.source)}.`
  return { findings: [...zoneFindings(dog, ride), leavingFinding(dog, ride)], source }
}

function zoneFindings({ zones: { says } }: DogRules, { zones }: Facts): RuleFinding[] {
  const up = touched(zones.up.verdict, 'the up contact')
  const isRarelyCalled = says.upRarelyCalled && up.outcome === 'broken'
  const shownUp = isRarelyCalled
    ? { ...up, sentence: `${up.sentence} Judges rarely call it unless it is obvious.` }
    : up
  return [
    shownUp,
    says.downAfterLanding ? downAfterGround(zones.down) : touched(zones.down.verdict, 'the down contact'),
  ]
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

/** The first contact of the board with the ground counts, also while it bounces back. */
function downAfterGround({ verdict, touchedAfterGround }: Ride['zones']['down']): RuleFinding {
  const rule = 'A paw must touch the down contact after the board has hit the ground'
  if (verdict === 'missed' || touchedAfterGround === 'no') return { outcome: 'broken', sentence: `${rule}: none did.` }
  if (touchedAfterGround === 'yes') return { outcome: 'kept', sentence: `${rule}: it did.` }
  return { outcome: 'unclear', sentence: `${rule}: the clip does not tell.` }
}

const EARLY: Record<DogRules['leaving']['says']['early'], string> = {
  fault: 'Leaving before the board lands is a fault',
  'fly-off': 'Leaving after the tilt has begun and before the board lands is the fly-off penalty',
}

function leavingFinding({ leaving: { says } }: DogRules, { leaving }: Facts): RuleFinding {
  const early = EARLY[says.early]
  switch (leaving.verdict) {
    case 'after-ground':
      return { outcome: 'kept', sentence: `${early}: it left after the landing.` }
    case 'before-ground':
      return { outcome: 'broken', sentence: `${early}: it left before.` }
    case 'before-tip':
      return beforeTip(says.beforeTip)
    case 'too-close':
      return { outcome: 'unclear', sentence: `${early}: too close to tell.` }
    case 'not-seen':
      return { outcome: 'unclear', sentence: `${early}: the clip does not show it.` }
  }
}

function beforeTip(rule: DogRules['leaving']['says']['beforeTip']): RuleFinding {
  switch (rule) {
    case 'refusal':
      return { outcome: 'broken', sentence: 'Leaving before the tilt is a refusal: it did.' }
    case 'refusal-before-axis':
      return {
        outcome: 'broken',
        sentence: 'Leaving before all paws have passed the axis is a refusal: it left before the board tipped.',
      }
    case 'unknown':
      return { outcome: 'unclear', sentence: 'It left before the board tipped: check your rule book.' }
  }
}
