import { useState } from 'react'
import { OWN_KEY, type OwnRules, ownFrom } from '../../analysis/rules/own-rules.ts'
import { RULE_SETS, type RuleSet, type Source } from '../../analysis/rules/rule-sets.ts'
import { dropPlaceInWords, dropTimeInWords, sourceInWords } from '../../analysis/rules/rule-words.ts'
import type { Settings } from '../../main/contract/settings.ts'
import { useRuleSets } from '../app/use-rule-sets.ts'
import { useSettings } from '../app/use-settings.ts'
import { Button } from '../look/button.tsx'
import { SelectField } from '../look/fields.tsx'
import { massUnit, shownIn } from '../lists/lengths.ts'
import { OwnRulesDialog } from './own-rules-dialog.tsx'

const NO_RULES = 'none'

/** Which rule book rides and boards are held against, and the handler's own. */
export function RuleBook() {
  const { settings, change } = useSettings()
  const { all, chosen } = useRuleSets()
  const [editing, setEditing] = useState<OwnRules | null>(null)
  const { ownRules } = settings
  return (
    <>
      <SelectField
        label="Rule book"
        options={[{ key: NO_RULES, name: 'None' }, ...all]}
        selected={chosen?.key ?? NO_RULES}
        onSelect={(key) => change({ ruleSet: key === NO_RULES ? null : key })}
        hint="New boards start from it, and rides are checked against it. The book itself has the last word."
      />
      {chosen === null ? null : <DropInShort rules={chosen} units={settings.units} />}
      <div className="library-buttons">
        <Button onPress={() => setEditing(ownRules ?? ownFrom(chosen ?? RULE_SETS[0]!, 'Our club'))}>
          {ownRules === null ? 'Add your own rules' : `Edit ${ownRules.name}`}
        </Button>
      </div>
      {editing === null ? null : (
        <OwnRulesDialog
          start={editing}
          isNew={ownRules === null}
          onSave={(own) => change({ ownRules: own, ruleSet: OWN_KEY })}
          onRemove={() => change({ ownRules: null, ...(settings.ruleSet === OWN_KEY ? { ruleSet: null } : {}) })}
          onClose={() => setEditing(null)}
        />
      )}
    </>
  )
}

interface DropInShortProps {
  readonly rules: RuleSet
  readonly units: Settings['units']
}

/** What the drop test of a rule set asks for, with where that is known from. */
function DropInShort({ rules, units }: DropInShortProps) {
  if (rules.drop === null) return <p className="soft small">No drop test is known for it.</p>
  const { says, source } = rules.drop
  return (
    <p className="soft small">
      Drop test: {shownIn(massUnit(units), says.massKg)}, {dropPlaceInWords(says.where, units)}, down in{' '}
      {dropTimeInWords(says)}. {asSentence(source)}
    </p>
  )
}

function asSentence(source: Source): string {
  const told = sourceInWords(source)
  return `${told.charAt(0).toUpperCase()}${told.slice(1)}.`
}
