import { fixed, listInWords } from '../words/in-words.ts'
import type { BuildFinding, BuildPart } from './build-check.ts'

/** What a length of a board is called, at the start of a line. */
export const BUILD_PARTS: Readonly<Record<BuildPart, string>> = {
  lengthM: 'Length',
  widthM: 'Width',
  pivotHeightM: 'Height at the pivot',
  contactM: 'Contact zone',
  axisBelowTopM: 'Axis below the top',
}

/** What a rule set asks of a length, the `limits` of a finding: "0.254 to 0.305 m", "at most 0.100 m". */
export function limitsInWords({ limits: { minM, maxM } }: Pick<BuildFinding, 'limits'>): string {
  if (minM !== null && maxM !== null) {
    return minM === maxM ? `${fixed(minM, 3)} m` : `${fixed(minM, 3)} to ${fixed(maxM, 3)} m`
  }
  if (maxM !== null) return `at most ${fixed(maxM, 3)} m`
  return minM === null ? 'no limit known' : `at least ${fixed(minM, 3)} m`
}

/** What came of a length, its `outcome` and how far it is outside: "inside", "35 mm too large". */
export function findingInWords({ outcome, outsideByM }: Pick<BuildFinding, 'outcome' | 'outsideByM'>): string {
  switch (outcome) {
    case 'inside':
      return 'inside'
    case 'outside':
      return `${fixed(Math.abs(outsideByM) * 1000, 0)} mm too ${outsideByM < 0 ? 'small' : 'large'}`
    case 'unsure':
      return 'at the limit: measure again'
    case 'not-known':
      return 'not given'
    case 'no-limit':
      return 'no limit'
  }
}

/**
 * What came of a length that pictures show.
 *
 * @param finding its outcome, which may be open
 * @returns "inside", "35 mm too large", "too uncertain to say"
 */
export function seenFindingInWords(finding: Pick<BuildFinding, 'outcome' | 'outsideByM'>): string {
  return finding.outcome === 'unsure' ? 'too uncertain to say' : findingInWords(finding)
}

/**
 * A board's lengths against one rule set in a few words.
 *
 * @param findings of one rule set
 * @returns names what is outside, else what is at the limit: "outside: width and contact zone"
 */
export function sizesInWords(findings: readonly Pick<BuildFinding, 'part' | 'outcome'>[]): string {
  const named = (outcome: BuildFinding['outcome']) =>
    findings.filter((finding) => finding.outcome === outcome).map(({ part }) => BUILD_PARTS[part].toLowerCase())
  const [outside, unsure] = [named('outside'), named('unsure')]
  if (outside.length > 0) return `outside: ${listInWords(outside)}`
  return unsure.length > 0 ? `at the limit: ${listInWords(unsure)}` : 'all inside, as entered'
}
