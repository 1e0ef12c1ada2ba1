import { ArrowLeft, ArrowRight } from 'lucide-react'
import type { ClipSetup } from '../../main/contract/clips.ts'
import { Choice } from '../look/choice.tsx'

export interface TravelChoiceProps {
  readonly travel: ClipSetup['travel']
  readonly onChange: (travel: 'to-right' | 'to-left') => void
  readonly hint?: string
  /** Asks for the end that goes down under a weight instead. */
  readonly isDropTest: boolean
}

/** Which way the dog crosses in the picture. */
export function TravelChoice({ travel, onChange, hint, isDropTest }: TravelChoiceProps) {
  return (
    <Choice
      label={isDropTest ? 'The weight lies on' : 'The dog crosses'}
      {...(hint === undefined ? {} : { hint })}
      options={[
        { key: 'to-left', name: isDropTest ? 'the left end' : 'to the left', icon: <ArrowLeft aria-hidden="true" /> },
        {
          key: 'to-right',
          name: isDropTest ? 'the right end' : 'to the right',
          icon: <ArrowRight aria-hidden="true" />,
        },
      ]}
      selected={travel}
      onSelect={onChange}
    />
  )
}
