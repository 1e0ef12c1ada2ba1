import type { UseQueryResult } from '@tanstack/react-query'
import { noneBecauseInWords } from '../../analysis/finding/marks-offer.ts'
import type { MarksDraft, MarksProposal, MarksSearch } from '../../main/contract/clips.ts'
import { useSettings } from '../app/use-settings.ts'
import { lengthUnit, shownIn } from '../lists/lengths.ts'
import { Button } from '../look/button.tsx'
import { Progress } from '../look/progress.tsx'

/** Where a proposal comes from and how well it fits. */
export function ProposalWords({ proposal: { from, misfit, advice } }: { readonly proposal: MarksProposal }) {
  const unit = lengthUnit(useSettings().settings.units)
  return (
    <>
      <p>
        <strong>{from.slice(0, 1).toUpperCase() + from.slice(1)}</strong>
        {misfit === null ? null : `, off by ${misfit.px.toFixed(1)} px (${shownIn(unit, misfit.m)})`}
      </p>
      <p className="soft small">{advice}</p>
    </>
  )
}

export interface ProposalsProps {
  readonly proposals: UseQueryResult<MarksSearch>
  readonly isLookedFor: boolean
  readonly onLook: () => void
  /** There are marks already: what was found is only offered beside them. */
  readonly hasMarks: boolean
  readonly onUse: (marks: MarksDraft) => void
}

/** The search for the plank, and what it found where there are marks already. */
export function Proposals({ proposals, isLookedFor, onLook, hasMarks, onUse }: ProposalsProps) {
  if (!isLookedFor) {
    return <Button onPress={onLook}>Find the plank</Button>
  }
  if (proposals.data === undefined) {
    return proposals.error === null ? (
      <Progress label="Looking for the plank" shareDone={null} />
    ) : (
      <p className="soft small">{proposals.error.message}</p>
    )
  }
  const { offers, noneBecause } = proposals.data
  if (noneBecause !== null) return <p className="soft small">{noneBecauseInWords(noneBecause)} Mark it by hand.</p>
  if (!hasMarks) return null
  return (
    <section className="proposals" aria-label="Suggested marks">
      {offers.map((proposal) => (
        <div key={proposal.from} className="card proposal">
          <ProposalWords proposal={proposal} />
          <Button onPress={() => onUse(proposal.marks)}>Use these</Button>
        </div>
      ))}
    </section>
  )
}
