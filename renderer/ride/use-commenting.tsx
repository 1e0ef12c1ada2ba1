import { useQueryClient } from '@tanstack/react-query'
import { type ReactNode, useCallback, useMemo, useState } from 'react'
import { type Review, readReview } from '../../analysis/review/read-review.ts'
import type { ReviewAuthor, ReviewItem, Stroke, StrokeShape } from '../../analysis/review/review-item.ts'
import type { RideDetail } from '../../main/contract/rides.ts'
import { useCall, useChange } from '../host/use-call.ts'
import { DrawingLayer } from '../review/drawing-layer.tsx'
import { shownStrokes } from '../review/shown-strokes.ts'

/** What was said of a ride, and what is being said and drawn. */
export interface Commenting {
  /** null until the host has said who writes here. */
  readonly author: ReviewAuthor | null
  readonly review: Review
  readonly tool: StrokeShape | null
  readonly setTool: (tool: StrokeShape | null) => void
  readonly strokes: readonly Stroke[]
  readonly setStrokes: (strokes: readonly Stroke[]) => void
  readonly put: (item: ReviewItem) => void
  readonly setName: (name: string) => void
  readonly problem: string | null
  /** Drawings over the picture of an element. */
  readonly layer: (shown: number) => ReactNode
}

export function useCommenting(detail: RideDetail, ptsS: Float64Array): Commenting {
  const answers = useQueryClient()
  const self = useCall('reviews.self', {}).data ?? null
  const keep = useChange('rides.review')
  const rename = useChange('reviews.setName')
  const [tool, setTool] = useState<StrokeShape | null>(null)
  const [strokes, setStrokes] = useState<readonly Stroke[]>([])
  const review = useMemo(() => readReview(detail.review, self?.authorId ?? null), [detail.review, self])
  const layer = useCallback(
    (shown: number) => (
      <DrawingLayer
        strokes={[...shownStrokes(review.comments, ptsS, shown), ...strokes]}
        tool={tool}
        onStroke={(stroke) => setStrokes((all) => [...all, stroke])}
      />
    ),
    [review, ptsS, strokes, tool],
  )
  const rideId = detail.card.id
  return {
    author: self === null ? null : { id: self.authorId, name: self.name },
    review,
    tool,
    setTool,
    strokes,
    setStrokes,
    put: (item) => keep.mutate({ rideId, items: [item] }),
    setName: (name) => rename.mutate({ name }, { onSuccess: (now) => answers.setQueryData(['reviews.self', {}], now) }),
    problem: keep.error?.message ?? null,
    layer,
  }
}
