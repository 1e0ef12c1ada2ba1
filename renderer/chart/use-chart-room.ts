import { type RefObject, useLayoutEffect, useState } from 'react'

export interface ChartRoom {
  readonly widthPx: number
  readonly heightPx: number
  /** Size of the chart's text, px. */
  readonly emPx: number
}

/** How large an element is and how large its text, kept up to date; null before it is laid out. */
export function useChartRoom(element: RefObject<Element | null>): ChartRoom | null {
  const [room, setRoom] = useState<ChartRoom | null>(null)
  useLayoutEffect(() => {
    const { current } = element
    if (current === null) return
    const measure = (): void => {
      const { width, height } = current.getBoundingClientRect()
      const emPx = parseFloat(getComputedStyle(current).fontSize)
      if (width > 0 && height > 0) setRoom({ widthPx: width, heightPx: height, emPx })
    }
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(current)
    return () => observer.disconnect()
  }, [element])
  return room
}
