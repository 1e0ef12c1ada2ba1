import { byTheRules, RULE_BOOKS, type RuleFinding } from '../../analysis/rules/by-the-rules.ts'
import type { Ride } from '../../analysis/ride/ride.ts'
import { useSettings } from '../app/use-settings.ts'
import { RULE_SETS } from '../lists/board-presets.ts'

const WORDS: Record<RuleFinding['outcome'], string> = { kept: 'Kept.', broken: 'Not kept.', unclear: 'Unclear.' }

/** The ride held against the rule book that the settings name; nothing where they name none. */
export function ByTheRules({ ride }: { readonly ride: Ride }) {
  const { settings } = useSettings()
  const book = RULE_BOOKS.find((key) => key === settings.ruleSet)
  if (book === undefined) return null
  const { findings, source } = byTheRules(book, ride)
  const name = RULE_SETS.find(({ key }) => key === book)?.name ?? book
  return (
    <section className="by-the-rules" aria-label={`By the ${name} rules`}>
      <h3>By the {name} rules</h3>
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
