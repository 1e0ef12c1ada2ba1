import type { BuildPart } from './build-check.ts'
import { type DropRule, type Limits, type RuleSet, ruleSetOf, type Source } from './rule-sets.ts'

/** What settings know a handler's own rule set by. */
export const OWN_KEY = 'own'

/** The bounds of one length, m; null: none on that side. */
export type OwnLimits = Pick<Limits, 'minM' | 'maxM'>

/** A rule set as a handler enters it: a body that the program does not know, a club, or a newer edition. */
export interface OwnRules extends Readonly<Record<BuildPart, OwnLimits>> {
  readonly name: string
  /** null: no drop test is prescribed. */
  readonly drop: DropRule | null
  /** A paw in the down contact counts only once the board has landed. */
  readonly downAfterLanding: boolean
  /** Leaving before the board tips is a refusal; false: the handler does not say. */
  readonly refusalBeforeTip: boolean
}

/** What most boards are built to, m: what a board starts from where no bound is entered. */
const USUAL: Readonly<Record<BuildPart, number>> = {
  lengthM: 3.66,
  widthM: 0.3,
  pivotHeightM: 0.61,
  contactM: 0.914,
  axisBelowTopM: 0.05,
}

/**
 * A handler's own rules in the shape of all others.
 *
 * @param own as entered; bounds in m
 * @returns every figure has the handler as its source
 */
export function ownRuleSet(own: OwnRules): RuleSet {
  const source: Source = { title: 'your own figures', year: null, confidence: 'entered' }
  const figure = (part: BuildPart) => ({ says: withUsual(own[part], USUAL[part]), source })
  return {
    key: OWN_KEY,
    name: own.name,
    build: {
      lengthM: figure('lengthM'),
      widthM: figure('widthM'),
      pivotHeightM: figure('pivotHeightM'),
      contactM: figure('contactM'),
      axisBelowTopM: figure('axisBelowTopM'),
    },
    drop: own.drop === null ? null : { says: own.drop, source },
    dog: {
      zones: { says: { upRarelyCalled: false, downAfterLanding: own.downAfterLanding }, source },
      leaving: { says: { early: 'fault', beforeTip: own.refusalBeforeTip ? 'refusal' : 'unknown' }, source },
    },
  }
}

/** The middle of both bounds, else the usual length drawn to the only one. */
function withUsual({ minM, maxM }: OwnLimits, usualM: number): Limits {
  const inside = minM !== null && maxM !== null ? (minM + maxM) / 2 : usualM
  return { minM, maxM, usualM: Math.min(Math.max(inside, minM ?? -Infinity), maxM ?? Infinity) }
}

/**
 * What a handler starts from: the figures of a known rule set.
 *
 * @param rules to copy
 * @param name of the handler's own
 */
export function ownFrom({ build, drop, dog }: RuleSet, name: string): OwnRules {
  const limits = (part: BuildPart): OwnLimits => {
    const { minM = null, maxM = null } = build[part]?.says ?? {}
    return { minM, maxM }
  }
  return {
    name,
    lengthM: limits('lengthM'),
    widthM: limits('widthM'),
    pivotHeightM: limits('pivotHeightM'),
    contactM: limits('contactM'),
    axisBelowTopM: limits('axisBelowTopM'),
    drop: drop?.says ?? null,
    downAfterLanding: dog?.zones.says.downAfterLanding ?? false,
    refusalBeforeTip: dog !== null && dog.leaving.says.beforeTip !== 'unknown',
  }
}

/**
 * What does not go together in a handler's own rules.
 *
 * @param own as entered
 * @returns a sentence that says what to change; null for rules that can be kept
 */
export function ownRulesFault(own: OwnRules): string | null {
  for (const part of Object.keys(USUAL) as BuildPart[]) {
    const { minM, maxM } = own[part]
    if (minM !== null && maxM !== null && minM > maxM)
      return `${PART_NAMES[part]}: “from” is more than “to”. Change one of them.`
  }
  if (own.drop !== null && own.drop.leastS !== null && own.drop.leastS >= own.drop.mostS)
    return 'Drop test: the shortest time is not below the longest. Change one of them.'
  return null
}

export const PART_NAMES: Readonly<Record<BuildPart, string>> = {
  lengthM: 'Length',
  widthM: 'Width',
  pivotHeightM: 'Height',
  contactM: 'Zone',
  axisBelowTopM: 'Axis below the top',
}

/**
 * The rule set of a key, the handler's own among them.
 *
 * @param key as settings name it; null: none
 * @param own the handler's own; null where none were entered
 * @returns null for a key that is none of them
 */
export function ruleSetAmong(key: string | null, own: OwnRules | null): RuleSet | null {
  return key === OWN_KEY && own !== null ? ownRuleSet(own) : ruleSetOf(key)
}
