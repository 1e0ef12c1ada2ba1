import type { Board } from '../board/board.ts'

/**
 * How far a figure is to be trusted: the body's own text was read, another page that quotes it was read, what was read is
 * weak, it is from memory, it is common practice without a source, or the handler entered it.
 */
export type Confidence = 'own-text' | 'quoted' | 'doubtful' | 'from-memory' | 'common-practice' | 'entered'

/** Where a figure comes from. */
export interface Source {
  readonly title: string
  /** When it was written or came into force; null where it does not say. */
  readonly year: number | null
  readonly confidence: Confidence
}

/** What a length may be, m; null: no bound is known on that side. Both alike: one figure without a tolerance. */
export interface Limits {
  readonly minM: number | null
  readonly maxM: number | null
  /** What most boards are built to. */
  readonly usualM: number
}

/** Something a rule book says, with where we know it from. */
export interface Figure<Value> {
  readonly says: Value
  readonly source: Source
}

/** The lengths that a rule book asks of a board; as in a board file. */
export interface BuildRules {
  readonly lengthM: Figure<Limits>
  readonly widthM: Figure<Limits>
  readonly pivotHeightM: Figure<Limits>
  readonly contactM: Figure<Limits>
  /** null where nothing is known of it. */
  readonly axisBelowTopM: Figure<Limits> | null
}

/** The fall that a rule book asks for: a weight is put on, and the exit end must land in time. */
export interface DropRule {
  readonly massKg: number
  readonly where: DropPlace
  /** What starts the clock; `not-said` is taken as the placing. */
  readonly timedFrom: 'placed' | 'released' | 'not-said'
  /** null: no lower bound. */
  readonly leastS: number | null
  readonly mostS: number
}

/** Where the weight lies. */
export type DropPlace =
  | { readonly kind: 'middle-of-down-contact' }
  | { readonly kind: 'towards-exit-end' }
  | { readonly kind: 'from-exit-end'; readonly byM: number }

/** What a dog must do, as far as it is known. */
export interface DogRules {
  readonly zones: Figure<{
    /** Judges rarely call a missed up contact unless it is obvious. */
    readonly upRarelyCalled: boolean
    /** A paw in the down contact counts only once the board has landed. */
    readonly downAfterLanding: boolean
  }>
  readonly leaving: Figure<{
    /** Leaving after the tip and before the landing. */
    readonly early: 'fault' | 'fly-off'
    /** Leaving before the board tips; `unknown`: the rule book was not found to say. */
    readonly beforeTip: 'refusal' | 'refusal-before-axis' | 'unknown'
  }>
}

/** One body's rules for the seesaw; `null` parts are not known. A handler's own rule set has the same shape. */
export interface RuleSet {
  readonly key: string
  readonly name: string
  readonly build: BuildRules
  readonly drop: Figure<DropRule> | null
  readonly dog: DogRules | null
}

/** A rule set that the program brings, by the key that settings and commands know it by. */
export interface KnownRuleSet extends RuleSet {
  readonly key: 'uk' | 'uk-old' | 'fci' | 'akc' | 'usdaa'
}
export type RuleSetKey = KnownRuleSet['key']

/** 1 in = 2.54 cm and 1 lb = 0.45359237 kg by definition. */
const inches = (count: number) => count * 0.0254
const pounds = (count: number) => count * 0.45359237

const exactly = (m: number): Limits => ({ minM: m, maxM: m, usualM: m })
const between = (minM: number, maxM: number, usualM: number): Limits => ({ minM, maxM, usualM })
const giveOrTake = (m: number, byM: number): Limits => ({ minM: m - byM, maxM: m + byM, usualM: m })
const atMost = (maxM: number): Limits => ({ minM: null, maxM, usualM: maxM / 2 })
const about = (usualM: number): Limits => ({ minM: null, maxM: null, usualM })

const UK: Source = {
  title: 'UK national regulations H(1)(B)3.m, in force since January 2021',
  year: 2021,
  confidence: 'own-text',
}
const UK_FROM_MEMORY: Source = { title: 'UK rules for leaving', year: null, confidence: 'from-memory' }
const UK_OLD: Source = { title: 'UK boards built before 2021', year: 2020, confidence: 'common-practice' }
const FCI_BUILD: Source = {
  title: 'FCI obstacle guidelines, in a Spanish paraphrase',
  year: 2020,
  confidence: 'quoted',
}
const FCI_ZONE: Source = { title: 'FCI contact zones, on a Spanish page', year: null, confidence: 'quoted' }
const FCI_DOG: Source = { title: 'FCI rules, in summaries of national clubs', year: 2024, confidence: 'quoted' }
const AKC: Source = { title: 'AKC agility regulations, as club pages quote them', year: 2012, confidence: 'quoted' }
const AKC_RULING: Source = {
  title: "AKC regulations and a judges' ruling, as quoted",
  year: 2012,
  confidence: 'quoted',
}
const USDAA_PAGE: Source = { title: 'USDAA training page', year: null, confidence: 'own-text' }
const USDAA_BUILD: Source = {
  title: 'USDAA training page and a club page, part of it from memory',
  year: null,
  confidence: 'doubtful',
}
const USDAA_ZONES: Source = { title: 'USDAA contact zones', year: null, confidence: 'from-memory' }

const ukDog: DogRules = {
  zones: { says: { upRarelyCalled: false, downAfterLanding: false }, source: UK },
  leaving: { says: { early: 'fault', beforeTip: 'unknown' }, source: UK_FROM_MEMORY },
}

/**
 * What is known of the bodies' rules for the seesaw, the one place for it. Bodies differ in the length of the zone, the
 * weight and where it lies, and whether there is a lower bound of time. Rules change: a handler's own rule book decides.
 */
export const RULE_SETS: readonly KnownRuleSet[] = [
  {
    key: 'uk',
    name: 'UK, since 2021',
    build: {
      lengthM: { says: exactly(3.66), source: UK },
      widthM: { says: between(0.295, 0.305, 0.3), source: UK },
      pivotHeightM: { says: exactly(0.61), source: UK },
      contactM: { says: exactly(0.914), source: UK },
      axisBelowTopM: { says: atMost(0.1), source: UK },
    },
    drop: {
      says: { massKg: 1, where: { kind: 'middle-of-down-contact' }, timedFrom: 'placed', leastS: 2, mostS: 3 },
      source: UK,
    },
    dog: ukDog,
  },
  {
    key: 'uk-old',
    name: 'UK, before 2021',
    build: {
      lengthM: { says: exactly(3.66), source: UK_OLD },
      widthM: { says: between(0.254, 0.305, 0.3), source: UK_OLD },
      pivotHeightM: { says: between(0.61, 0.685, 0.66), source: UK_OLD },
      contactM: { says: exactly(0.914), source: UK_OLD },
      axisBelowTopM: null,
    },
    drop: {
      says: { massKg: 1, where: { kind: 'towards-exit-end' }, timedFrom: 'not-said', leastS: 2, mostS: 3 },
      source: UK_OLD,
    },
    dog: ukDog,
  },
  {
    key: 'fci',
    name: 'FCI',
    build: {
      lengthM: { says: between(3.6, 3.8, 3.7), source: FCI_BUILD },
      widthM: { says: exactly(0.3), source: FCI_BUILD },
      pivotHeightM: { says: exactly(0.6), source: FCI_BUILD },
      contactM: { says: exactly(0.9), source: FCI_ZONE },
      axisBelowTopM: { says: atMost(0.1), source: FCI_BUILD },
    },
    drop: {
      says: { massKg: 1, where: { kind: 'middle-of-down-contact' }, timedFrom: 'not-said', leastS: 2, mostS: 3 },
      source: FCI_BUILD,
    },
    dog: {
      zones: { says: { upRarelyCalled: true, downAfterLanding: false }, source: FCI_DOG },
      leaving: { says: { early: 'fault', beforeTip: 'refusal-before-axis' }, source: FCI_DOG },
    },
  },
  {
    key: 'akc',
    name: 'AKC',
    build: {
      lengthM: { says: giveOrTake(inches(144), inches(1)), source: AKC },
      widthM: { says: giveOrTake(inches(12), inches(1)), source: AKC },
      pivotHeightM: { says: giveOrTake(inches(24), inches(2)), source: AKC },
      contactM: { says: giveOrTake(inches(42), inches(0.25)), source: AKC },
      axisBelowTopM: null,
    },
    drop: {
      says: {
        massKg: pounds(3),
        where: { kind: 'from-exit-end', byM: inches(12) },
        // As quoted the weight is laid on and the end comes down: no hand is spoken of.
        timedFrom: 'released',
        leastS: null,
        mostS: 3,
      },
      source: AKC,
    },
    dog: {
      zones: { says: { upRarelyCalled: false, downAfterLanding: true }, source: AKC_RULING },
      leaving: { says: { early: 'fault', beforeTip: 'unknown' }, source: AKC_RULING },
    },
  },
  {
    key: 'usdaa',
    name: 'USDAA',
    build: {
      lengthM: { says: about(3.66), source: USDAA_BUILD },
      widthM: { says: between(0.23, 0.305, 0.3), source: USDAA_BUILD },
      pivotHeightM: { says: exactly(0.61), source: USDAA_BUILD },
      contactM: { says: exactly(0.914), source: USDAA_BUILD },
      axisBelowTopM: null,
    },
    drop: null,
    dog: {
      zones: { says: { upRarelyCalled: false, downAfterLanding: false }, source: USDAA_ZONES },
      leaving: { says: { early: 'fly-off', beforeTip: 'refusal' }, source: USDAA_PAGE },
    },
  },
]

/**
 * The rule set of a key, as settings and commands name it.
 *
 * @param key `uk`, `uk-old`, `fci`, `akc` or `usdaa`
 * @returns null for a key that is none of them
 */
export function ruleSetOf(key: string | null): KnownRuleSet | null {
  return RULE_SETS.find((one) => one.key === key) ?? null
}

/**
 * The board that a rule set's builders mostly make, as a start for a board of one's own.
 *
 * @param rules whose build
 * @returns m
 */
export function usualBoard({ build }: Pick<RuleSet, 'build'>): Board {
  return {
    lengthM: build.lengthM.says.usualM,
    widthM: build.widthM.says.usualM,
    pivotHeightM: build.pivotHeightM.says.usualM,
    contactM: build.contactM.says.usualM,
  }
}

/** The board that is taken where nobody says which one it is. */
export const USUAL_BOARD: Board = usualBoard(RULE_SETS[0]!)

/**
 * The figures of a rule set's board that are known.
 *
 * @param rules whose build
 * @returns each with its source
 */
export function buildFigures({ build }: Pick<RuleSet, 'build'>): readonly Figure<Limits>[] {
  const { lengthM, widthM, pivotHeightM, contactM, axisBelowTopM } = build
  return [lengthM, widthM, pivotHeightM, contactM, ...(axisBelowTopM === null ? [] : [axisBelowTopM])]
}

/** Where the weight of a drop test lies unless somebody says otherwise: there most rule books want it. */
export const USUAL_PLACE: DropPlace = { kind: 'middle-of-down-contact' }

/**
 * Where along a board the weight of its drop rule lies.
 *
 * @param where as the rule set says; "towards the exit end" is taken as the middle of the down contact
 * @param board m
 * @returns m from the entry end
 * @example testMassAlongM({ kind: 'middle-of-down-contact' }, { lengthM: 3.66, contactM: 0.914 }) // 3.203
 */
export function testMassAlongM(where: DropPlace, { lengthM, contactM }: Pick<Board, 'lengthM' | 'contactM'>): number {
  return where.kind === 'from-exit-end' ? lengthM - where.byM : lengthM - contactM / 2
}
