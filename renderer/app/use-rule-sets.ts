import { ownRuleSet, ruleSetAmong } from '../../analysis/rules/own-rules.ts'
import { RULE_SETS, type RuleSet } from '../../analysis/rules/rule-sets.ts'
import { useSettings } from './use-settings.ts'

/** All rule sets, the handler's own last, and the one that the settings name; null where they name none. */
export function useRuleSets(): { readonly all: readonly RuleSet[]; readonly chosen: RuleSet | null } {
  const { ruleSet, ownRules } = useSettings().settings
  const own = ownRules === null ? [] : [ownRuleSet(ownRules)]
  return { all: [...RULE_SETS, ...own], chosen: ruleSetAmong(ruleSet, ownRules) }
}
