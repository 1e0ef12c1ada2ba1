import { buildFigures, type Confidence, type DropPlace, type DropRule, type RuleSet, type Source } from './rule-sets.ts'
import { fixed, listInWords } from '../words/in-words.ts'
import { lengthDisplay, type Units } from '../words/units.ts'

const CONFIDENCE: Record<Confidence, string | null> = {
  'own-text': null,
  quoted: 'quoted',
  doubtful: 'not certain',
  'from-memory': 'from memory',
  'common-practice': 'common practice',
  entered: null,
}

/**
 * A source with its year and how far it is to be trusted: "AKC agility regulations, as club pages quote them (2012)".
 *
 * @param source of a figure
 * @returns no full stop; what was not read in the body's own text or a quotation of it says so
 */
export function sourceInWords({ title, year, confidence }: Source): string {
  const word = confidence === 'quoted' ? null : CONFIDENCE[confidence]
  const aside = [year === null || title.includes(String(year)) ? null : String(year), word].filter(
    (part) => part !== null,
  )
  return aside.length === 0 ? title : `${title} (${aside.join(', ')})`
}

/**
 * Where the board's figures of a rule set come from, a sentence or two.
 *
 * @param rules whose build
 * @returns ends in what to do where the body's own text was not read
 */
export function buildSourceInWords(rules: Pick<RuleSet, 'build'>): string {
  const sources = [...new Set(buildFigures(rules).map(({ source }) => source))]
  const told = `${listInWords(sources.map(sourceInWords))}.`
  return sources.every(({ confidence }) => confidence === 'own-text' || confidence === 'entered')
    ? told
    : `${told} Check your own rule book.`
}

/** Where the weight lies, `where` a drop rule says so, in these `units`: "in the middle of the down contact". */
export function dropPlaceInWords(where: DropPlace, units: Units = 'metric'): string {
  switch (where.kind) {
    case 'middle-of-down-contact':
      return 'in the middle of the down contact'
    case 'towards-exit-end':
      return 'towards the exit end'
    case 'from-exit-end': {
      const { perSi, sign, decimals } = lengthDisplay(units)
      return `${fixed(where.byM * perSi, decimals)} ${sign} from the raised end`
    }
  }
}

/** When the board must land by a drop `rule`: "2 to 3 s after placing the weight", "under 3 s". */
export function dropTimeInWords({ leastS, mostS, timedFrom }: DropRule): string {
  const window = leastS === null ? `under ${mostS} s` : `${leastS} to ${mostS} s`
  return timedFrom === 'placed' ? `${window} after placing the weight` : window
}
