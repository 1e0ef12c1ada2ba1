import type { UseQueryResult } from '@tanstack/react-query'
import type { ReactNode } from 'react'
import { Button } from './button.tsx'
import { Notice } from './notice.tsx'

export interface AnswerProps<T> {
  readonly of: UseQueryResult<T>
  readonly children: (value: T) => ReactNode
}

/** What a call answered, shown; until then nothing, and the sentence if it went wrong. */
export function Answer<T>({ of, children }: AnswerProps<T>) {
  if (of.data !== undefined) return children(of.data)
  if (of.error === null) return <div className="waiting" role="status" aria-label="Loading" />
  return (
    <Notice tone="bad" actions={<Button onPress={() => void of.refetch()}>Try again</Button>}>
      {of.error.message}
    </Notice>
  )
}
