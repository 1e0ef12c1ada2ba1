import { Check } from 'lucide-react'
import type { MarksDraft } from '../../main/contract/clips.ts'
import { Choice } from '../look/choice.tsx'
import { type Moment, pointOf, POINTS } from './mark-point.ts'

export interface MomentTabsProps {
  readonly moment: Moment
  readonly marks: MarksDraft
  readonly onChange: (moment: Moment) => void
}

/** Which of the two moments is being marked. */
export function MomentTabs({ moment, marks, onChange }: MomentTabsProps) {
  const isDone = (one: Moment): boolean =>
    (one === 'grounded' && marks.neverLands) ||
    POINTS[one].every((name) => pointOf(marks, { moment: one, name }) !== null)
  const done = (one: Moment) => (isDone(one) ? { icon: <Check aria-label="Done" strokeWidth={2.5} /> } : {})
  return (
    <Choice
      label="Two moments to mark"
      options={[
        { key: 'rest', name: 'Board at rest', ...done('rest') },
        { key: 'grounded', name: 'Exit end down', ...done('grounded') },
      ]}
      selected={moment}
      onSelect={onChange}
    />
  )
}
