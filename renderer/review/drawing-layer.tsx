import { type PointerEvent, useEffect, useRef, useState } from 'react'
import type { FrameShare, Stroke, StrokeShape } from '../../analysis/review/review-item.ts'
import { StrokePicture } from './stroke-picture.tsx'

export interface DrawingLayerProps {
  readonly strokes: readonly Stroke[]
  /** What the pointer draws; null: nothing. */
  readonly tool: StrokeShape | null
  readonly onStroke?: (stroke: Stroke) => void
}

/** Points of a freehand line that lie closer are left out, shares of the picture's width. */
const LEAST_STEP = 0.004

/** Drawings over a frame, and the pointer that draws them. An angle takes three presses, all else one drag. */
export function DrawingLayer({ strokes, tool, onStroke }: DrawingLayerProps) {
  const svg = useRef<SVGSVGElement>(null)
  const [size, setSize] = useState({ widthPx: 0, heightPx: 0 })
  const [draft, setDraft] = useState<readonly FrameShare[]>([])
  useEffect(() => {
    const { current } = svg
    if (current === null) return
    const measure = (): void => setSize({ widthPx: current.clientWidth, heightPx: current.clientHeight })
    const observer = new ResizeObserver(measure)
    observer.observe(current)
    measure()
    return () => observer.disconnect()
  }, [])
  const [drawnWith, setDrawnWith] = useState(tool)
  if (drawnWith !== tool) {
    setDrawnWith(tool)
    setDraft([])
  }

  const at = (event: PointerEvent<SVGSVGElement>): FrameShare => {
    const { left, top, width, height } = event.currentTarget.getBoundingClientRect()
    return { xShare: rounded((event.clientX - left) / width), yShare: rounded((event.clientY - top) / height) }
  }
  const finish = (points: readonly FrameShare[]): void => {
    setDraft([])
    if (tool !== null && points.length > 1) onStroke?.({ shape: tool, points })
  }
  const press = (event: PointerEvent<SVGSVGElement>): void => {
    if (tool === null) return
    event.stopPropagation()
    const point = at(event)
    if (tool === 'angle') {
      const points = [...draft, point]
      if (points.length === 3) finish(points)
      else setDraft(points)
      return
    }
    event.currentTarget.setPointerCapture(event.pointerId)
    setDraft([point])
  }
  const move = (event: PointerEvent<SVGSVGElement>): void => {
    const last = draft.at(-1)
    if (tool === null || tool === 'angle' || last === undefined) return
    const point = at(event)
    if (tool !== 'freehand') setDraft([draft[0]!, point])
    else if (Math.hypot(point.xShare - last.xShare, point.yShare - last.yShare) > LEAST_STEP)
      setDraft([...draft, point])
  }
  const release = (): void => {
    if (tool !== null && tool !== 'angle') finish(draft)
  }
  const shown = tool === null || draft.length === 0 ? strokes : [...strokes, { shape: tool, points: draft }]
  return (
    <svg
      ref={svg}
      className="drawing-layer"
      data-draws={tool === null ? undefined : ''}
      aria-hidden="true"
      onPointerDown={press}
      onPointerMove={move}
      onPointerUp={release}
    >
      {size.widthPx === 0 ? null : shown.map((stroke, k) => <StrokePicture key={k} stroke={stroke} {...size} />)}
    </svg>
  )
}

function rounded(share: number): number {
  return Math.round(Math.min(1, Math.max(0, share)) * 10_000) / 10_000
}
