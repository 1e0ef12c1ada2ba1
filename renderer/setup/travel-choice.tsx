import { ArrowLeft, ArrowRight } from 'lucide-react'
import type { ClipSetup } from '../../main/contract/clips.ts'
import { Choice } from '../look/choice.tsx'

export interface TravelChoiceProps {
  readonly travel: ClipSetup['travel']
  readonly onChange: (travel: 'to-right' | 'to-left') => void
  readonly hint?: string
}

/** Which way the dog crosses in the picture. */
export function TravelChoice({ travel, onChange, hint }: TravelChoiceProps) {
  return (
    <Choice
      label="The dog crosses"
      {...(hint === undefined ? {} : { hint })}
      options={[
        { key: 'to-left', name: 'to the left', icon: <ArrowLeft aria-hidden="true" /> },
        { key: 'to-right', name: 'to the right', icon: <ArrowRight aria-hidden="true" /> },
      ]}
      selected={travel}
      onSelect={onChange}
    />
  )
}
