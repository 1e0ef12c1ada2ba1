import type { UseQueryResult } from '@tanstack/react-query'
import type { ReactNode } from 'react'
import { Button } from './button.tsx'
import { Notice } from './notice.tsx'

export interface AnswerProps<T> {
  readonly of: UseQueryResult<T>
  /** What takes a while: "Working the drops out". */
  readonly doing?: string
  readonly children: (value: T) => ReactNode
}

/** What a call answered, shown; until then what is being done, if it takes a while, and the sentence if it went wrong. */
export function Answer<T>({ of, doing = 'Loading', children }: AnswerProps<T>) {
  if (of.data !== undefined) return children(of.data)
  if (of.error === null) {
    return (
      <p className="waiting soft" role="status">
        {doing}
      </p>
    )
  }
  return (
    <Notice tone="bad" actions={<Button onPress={() => void of.refetch()}>Try again</Button>}>
      {of.error.message}
    </Notice>
  )
}
