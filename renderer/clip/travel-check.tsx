import type { ClipSetup, MarksDraft } from '../../main/contract/clips.ts'
import { Button } from '../look/button.tsx'
import { Notice } from '../look/notice.tsx'

type Travel = NonNullable<ClipSetup['travel']>

/** Which way the dog crosses by the marked ends; null while one is missing. */
export function markedTravel({ rest }: MarksDraft): Travel | null {
  if (rest === null || rest.entryEnd === null || rest.exitEnd === null) return null
  return rest.exitEnd.xPx > rest.entryEnd.xPx ? 'to-right' : 'to-left'
}

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
