import type { z } from 'zod'

type Issue = z.core.$ZodIssue

/** What is wrong with an input, in one sentence: the field, the rule and the value. `dog.withersM must be at most 1.2; it is 3.` */
export function badInputSentence(issues: readonly Issue[], input: unknown): string {
  const issue = issues[0]
  if (issue === undefined) return 'The input breaks a rule.'
  const field = issue.path.length === 0 ? 'The input' : issue.path.map(String).join('.')
  return `${field} ${rule(issue)}; it is ${shown(valueAt(input, issue.path))}.`
}

function rule(issue: Issue): string {
  switch (issue.code) {
    case 'too_small':
      return `must ${lengthOrNumber(issue.origin)} at least ${issue.minimum}${unit(issue.origin, issue.minimum)}`
    case 'too_big':
      return `must ${lengthOrNumber(issue.origin)} at most ${issue.maximum}${unit(issue.origin, issue.maximum)}`
    case 'invalid_type':
      return `must be ${withArticle(issue.expected)}`
    case 'invalid_value':
      return `must be one of ${issue.values.map(String).join(', ')}`
    case 'invalid_format':
      return issue.pattern === undefined
        ? `must have the form "${issue.format}"`
        : `must have the form ${issue.pattern}`
    default:
      return `is not as it must be (${issue.message})`
  }
}

function lengthOrNumber(origin: string): string {
  return origin === 'string' || origin === 'array' ? 'have' : 'be'
}

function unit(origin: string, count: number | bigint): string {
  const isOne = Number(count) === 1
  if (origin === 'string') return isOne ? ' character' : ' characters'
  if (origin === 'array') return isOne ? ' entry' : ' entries'
  return ''
}

function withArticle(type: string): string {
  if (type === 'int') return 'a whole number'
  return /^[aeiou]/.test(type) ? `an ${type}` : `a ${type}`
}

function valueAt(input: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>((value, key) => (value as Record<PropertyKey, unknown> | null | undefined)?.[key], input)
}

function shown(value: unknown): string {
  if (value === undefined) return 'missing'
  if (typeof value === 'number') return String(value)
  const text = written(value)
  return text.length > 60 ? `${text.slice(0, 57)}...` : text
}

function written(value: unknown): string {
  try {
    return JSON.stringify(value) ?? typeof value
  } catch {
    // Lists within lists, too many to be written.
    return 'something too deep to be shown'
  }
}
