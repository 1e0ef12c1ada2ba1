import { byTheRules, type RuleFinding } from '../../analysis/rules/by-the-rules.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import type { VerdictCard } from '../../analysis/words/verdict-cards.ts'
import { useRuleSets } from '../app/use-rule-sets.ts'
import { VerdictShape } from '../figures/verdict-shape.tsx'

const WORDS: Record<RuleFinding['outcome'], string> = { kept: 'Met.', broken: 'Not met.', unclear: 'Unclear.' }

/** How a ride stands by the rule book that the settings name, in a word; nothing where they name none. */
export function RulesInShort({ ride }: { readonly ride: Ride }) {
  const rules = useRuleSets().chosen
  if (rules === null) return null
  const outcomes = byTheRules(rules, ride).findings.map(({ outcome }) => outcome)
  const { shape, word } = inShort(outcomes)
  return (
    <article className="verdict-card">
      <VerdictShape shape={shape} />
      <div>
        <h2>{rules.name}</h2>
        <p className="verdict-word">{word}</p>
      </div>
    </article>
  )
}

function inShort(outcomes: readonly RuleFinding['outcome'][]): Pick<VerdictCard, 'shape' | 'word'> {
  if (outcomes.includes('broken')) return { shape: 'against', word: 'not met' }
  if (outcomes.includes('unclear')) return { shape: 'open', word: 'unclear' }
  return { shape: 'sure', word: 'met' }
}

/** The ride held against the rule book that the settings name, rule by rule; nothing where they name none. */
export function ByTheRules({ ride }: { readonly ride: Ride }) {
  const rules = useRuleSets().chosen
  if (rules === null) return null
  const { findings, source } = byTheRules(rules, ride)
  return (
    <section className="by-the-rules" aria-label={`By the rules: ${rules.name}`}>
      <h2>By the rules: {rules.name}</h2>
      <ul>
        {findings.map(({ outcome, sentence }) => (
          <li key={sentence}>
            <strong>{WORDS[outcome]}</strong> {sentence}
          </li>
        ))}
      </ul>
      <p className="soft small">{source} The judge decides.</p>
    </section>
  )
}
