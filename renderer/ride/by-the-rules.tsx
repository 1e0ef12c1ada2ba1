import { byTheRules, type RuleFinding } from '../../analysis/rules/by-the-rules.ts'
import { ruleSetOf } from '../../analysis/rules/rule-sets.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import { useSettings } from '../app/use-settings.ts'

const WORDS: Record<RuleFinding['outcome'], string> = { kept: 'Met.', broken: 'Not met.', unclear: 'Unclear.' }

/** The ride held against the rule book that the settings name; nothing where they name none. */
export function ByTheRules({ ride }: { readonly ride: Ride }) {
  const { settings } = useSettings()
  const rules = ruleSetOf(settings.ruleSet)
  if (rules === null) return null
  const { findings, source } = byTheRules(rules.key, ride)
  const name = rules.name
  return (
    <section className="by-the-rules" aria-label={`By the rules: ${name}`}>
      <h3>By the rules: {name}</h3>
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
