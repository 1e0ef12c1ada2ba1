import type { Travel } from '../../analysis/marking/marks-draft.ts'
import { Button } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'

export function travelInWords(travel: Travel): string {
  return travel === 'to-right' ? 'to the right' : 'to the left'
}

export interface TravelCheckProps {
  readonly marked: Travel | null
  readonly said: Travel | null
  readonly onTurn: (travel: Travel) => void
}

/** Says before the measuring when the marks and the set-up disagree on the direction. */
export function TravelCheck({ marked, said, onTurn }: TravelCheckProps) {
  if (marked === null || said === null || marked === said) return null
  return (
    <Notice
      tone="unsure"
      actions={<Button onPress={() => onTurn(marked)}>The dog crosses {travelInWords(marked)}</Button>}
    >
      The set-up says that the dog crosses {travelInWords(said)}, but the exit end is marked on the other side. Change
      the direction, or swap the marks of the two ends.
    </Notice>
  )
}
