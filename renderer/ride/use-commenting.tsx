import { useQueryClient } from '@tanstack/react-query'
import { type ReactNode, useCallback, useMemo, useState } from 'react'
import { type Review, readReview } from '../../analysis/review/read-review.ts'
import type { ReviewAuthor, ReviewItem, StrokeShape } from '../../analysis/review/review-item.ts'
import type { RideDetail } from '../../main/contract/rides.ts'
import { useCall, useChange } from '../host/use-call.ts'
import { DrawingLayer } from '../review/drawing-layer.tsx'
import { type Drawing, withStroke } from '../review/drawing.ts'
import { shownStrokes } from '../review/shown-strokes.ts'

/** What was said of a ride, and what is being said and drawn. */
export interface Commenting {
  /** null until the host has said who writes here. */
  readonly author: ReviewAuthor | null
  readonly review: Review
  readonly tool: StrokeShape | null
  readonly setTool: (tool: StrokeShape | null) => void
  readonly drawing: Drawing | null
  readonly setDrawing: (drawing: Drawing | null) => void
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
  const [drawing, setDrawing] = useState<Drawing | null>(null)
  const review = useMemo(() => readReview(detail.review, self?.authorId ?? null), [detail.review, self])
  const layer = useCallback(
    (shown: number) => {
      const shownS = ptsS[shown] ?? 0
      const isDrawnHere = drawing?.atS === shownS
      return (
        <DrawingLayer
          strokes={[...shownStrokes(review.comments, ptsS, shown), ...(isDrawnHere ? drawing.strokes : [])]}
          tool={drawing === null || isDrawnHere ? tool : null}
          onStroke={(stroke) => setDrawing((now) => withStroke(now, stroke, shownS))}
        />
      )
    },
    [review, ptsS, drawing, tool],
  )
  const rideId = detail.card.id
  return {
    author: self === null ? null : { id: self.authorId, name: self.name },
    review,
    tool,
    setTool,
    drawing,
    setDrawing,
    put: (item) => keep.mutate({ rideId, items: [item] }),
    setName: (name) => rename.mutate({ name }, { onSuccess: (now) => answers.setQueryData(['reviews.self', {}], now) }),
    problem: keep.error?.message ?? null,
    layer,
  }
}
