import { useState } from 'react'
import type { MarksDraft } from '../../main/contract/clips.ts'
import { useSettings } from '../app/use-settings.ts'
import { useCall } from '../host/use-call.ts'
import { lengthUnit, shownIn } from '../lists/lengths.ts'
import { Button } from '../look/button.tsx'
import { Progress } from '../look/progress.tsx'

export interface ProposalsProps {
  readonly clipId: string
  /** With marks of the handler's own nothing is offered unless it is asked for. */
  readonly hasMarks: boolean
  readonly onUse: (marks: MarksDraft) => void
}

/** Marks that the program offers: found in the picture, or carried over from another clip of the same place. */
export function Proposals({ clipId, hasMarks, onUse }: ProposalsProps) {
  const [isWanted, setIsWanted] = useState(!hasMarks)
  // Looked for anew on each visit: direction or board may have been changed meanwhile.
  const proposals = useCall('clips.proposeMarks', { clipId }, { enabled: isWanted, staleTime: Infinity, gcTime: 0 })
  const unit = lengthUnit(useSettings().settings.units)
  if (!isWanted) {
    return (
      <Button look="quiet" onPress={() => setIsWanted(true)}>
        Look for the plank
      </Button>
    )
  }
  if (proposals.data === undefined) {
    return proposals.error === null ? (
      <Progress label="Looking for the plank in the picture" shareDone={null} />
    ) : (
      <p className="soft small">{proposals.error.message}</p>
    )
  }
  if (proposals.data.length === 0) {
    return hasMarks ? null : (
      <p className="soft small">
        The program did not find the plank by itself here. Does the dog cross the way that the set-up says?
      </p>
    )
  }
  return (
    <section className="proposals" aria-label="Proposed marks">
      {proposals.data.map(({ marks, from, misfit, advice }) => (
        <div key={from} className="card proposal">
          <p>
            <strong>{from.slice(0, 1).toUpperCase() + from.slice(1)}</strong>
            {misfit === null ? null : `, fits the board to ${misfit.px.toFixed(1)} px (${shownIn(unit, misfit.m)})`}
          </p>
          <p className="soft small">{advice}</p>
          <Button
            look={hasMarks ? 'plain' : 'primary'}
            onPress={() => {
              onUse(marks)
              setIsWanted(false)
            }}
          >
            Use these
          </Button>
        </div>
      ))}
    </section>
  )
}
