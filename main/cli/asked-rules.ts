import { OWN_KEY, ruleSetAmong } from '../../analysis/rules/own-rules.ts'
import type { RuleSet } from '../../analysis/rules/rule-sets.ts'
import type { Parsed } from '../files/parsed.ts'
import { keptOwnRules } from '../library/kept-rules.ts'
import { defaultLibraryFolder } from '../library/library-folder.ts'

/** The rule set that `--rules` names; the handler's own come from a library's settings, the user's unless one is named. */
export async function askedRules(key: string, libraryFolder?: string): Promise<Parsed<RuleSet>> {
  const own = key === OWN_KEY ? await keptOwnRules(libraryFolder ?? defaultLibraryFolder()) : null
  if (own !== null && !own.ok) return own
  const rules = ruleSetAmong(key, own?.value ?? null)
  return rules === null ? { ok: false, message: `--rules ${key} is not known` } : { ok: true, value: rules }
}
