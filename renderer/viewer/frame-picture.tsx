import type { ImagePx } from '../../analysis/geometry/points.ts'
import { useLayoutEffect, useRef, useState } from 'react'

export interface FramePictureProps {
  readonly picture: ImageBitmap | null
  readonly label: string
  readonly widthPx: number
  readonly heightPx: number
  /** Called with the image px that are pressed; null: pressing does nothing. */
  readonly onPoint: ((at: ImagePx) => void) | null
  /** What is drawn over it, for the width in which it is shown, px. */
  readonly children: (shownWidthPx: number) => React.ReactNode
}

/** A frame as large as fits. While the next picture is on its way the last one stays. */
export function FramePicture({ picture, label, widthPx, heightPx, onPoint, children }: FramePictureProps) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const box = useRef<HTMLDivElement>(null)
  const [shownWidthPx, setShownWidthPx] = useState(0)
  useLayoutEffect(() => {
    const { current } = canvas
    if (current === null || picture === null) return
    if (current.width !== picture.width || current.height !== picture.height) {
      current.width = picture.width
      current.height = picture.height
    }
    current.getContext('2d')?.drawImage(picture, 0, 0)
  }, [picture])
  useLayoutEffect(() => {
    const { current } = box
    if (current === null) return
    const observer = new ResizeObserver(() => setShownWidthPx(current.clientWidth))
    observer.observe(current)
    setShownWidthPx(current.clientWidth)
    return () => observer.disconnect()
  }, [])
  return (
    <div
      ref={box}
      className="frame-picture"
      style={{ '--ratio': String(widthPx / heightPx) } as React.CSSProperties}
      data-pointable={onPoint === null ? undefined : ''}
      onPointerDown={(pressed) => {
        const { left, top } = pressed.currentTarget.getBoundingClientRect()
        const perPx = widthPx / shownWidthPx
        onPoint?.({ xPx: (pressed.clientX - left) * perPx, yPx: (pressed.clientY - top) * perPx })
      }}
      role="img"
      aria-label={label}
    >
      <canvas ref={canvas} />
      {children(shownWidthPx)}
    </div>
  )
}
