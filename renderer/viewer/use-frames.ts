import { useEffect, useReducer, useRef, useState } from 'react'
import { framesAround, FrameStore } from './frame-store.ts'

/** Decoded pictures that are held: 1280 x 720 px take 3.7 MB each. */
const MOST_HELD = 40
/** While single frames are made on demand, no more than these are asked for at a time. */
const MOST_ON_DEMAND = 3

export interface Frames {
  /** The picture of the wanted element; null until it has come. */
  readonly picture: ImageBitmap | null
  readonly hasFailed: boolean
  readonly retry: () => void
}

/** Fetches and decodes the picture of one element. */
export type LoadFrame = (element: number, signal: AbortSignal) => Promise<ImageBitmap>

/**
 * The picture of one element of a film, with those around it fetched ahead.
 *
 * @param load must stay the same as long as the film does
 * @param count of the film's elements
 * @param isReady whether pictures come at once
 */
export function useFrames(load: LoadFrame, count: number, element: number, isReady: boolean): Frames {
  const [, redraw] = useReducer((n: number) => n + 1, 0)
  const wanted = useRef(element)
  const [store, setStore] = useState<FrameStore<ImageBitmap> | null>(null)
  useEffect(() => {
    const opened = new FrameStore<ImageBitmap>({
      most: MOST_HELD,
      load,
      discard: (picture) => picture.close(),
      onChange: (k) => {
        if (k === wanted.current) redraw()
      },
    })
    setStore(opened)
    return () => opened.close()
  }, [load])
  useEffect(() => {
    const direction = element >= wanted.current ? 1 : -1
    wanted.current = element
    store?.want(framesAround(element, direction, count, isReady ? MOST_HELD : MOST_ON_DEMAND))
  }, [store, element, count, isReady])
  return {
    picture: store?.get(element) ?? null,
    hasFailed: store?.hasFailed(element) ?? false,
    retry: () => store?.retry(),
  }
}
