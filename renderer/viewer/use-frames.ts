import { useEffect, useReducer, useRef, useState } from 'react'
import { useClient } from '../host/host-provider.tsx'
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

/**
 * The picture of one element of a ride's frames, with those around it fetched ahead.
 *
 * @param frameIndex the clip's frame of each element
 * @param isReady whether the pictures are prepared
 */
export function useFrames(clipId: string, frameIndex: readonly number[], element: number, isReady: boolean): Frames {
  const { pictureAddress } = useClient()
  const [, redraw] = useReducer((n: number) => n + 1, 0)
  const wanted = useRef(element)
  const [store, setStore] = useState<FrameStore<ImageBitmap> | null>(null)
  useEffect(() => {
    const opened = new FrameStore<ImageBitmap>({
      most: MOST_HELD,
      load: (k, signal) => fetchPicture(pictureAddress(clipId, frameIndex[k]!, 'frame'), signal),
      discard: (picture) => picture.close(),
      onChange: (k) => {
        if (k === wanted.current) redraw()
      },
    })
    setStore(opened)
    return () => opened.close()
  }, [clipId, frameIndex, pictureAddress])
  useEffect(() => {
    const direction = element >= wanted.current ? 1 : -1
    wanted.current = element
    store?.want(framesAround(element, direction, frameIndex.length, isReady ? MOST_HELD : MOST_ON_DEMAND))
  }, [store, element, frameIndex, isReady])
  return {
    picture: store?.get(element) ?? null,
    hasFailed: store?.hasFailed(element) ?? false,
    retry: () => store?.retry(),
  }
}

async function fetchPicture(path: string, signal: AbortSignal): Promise<ImageBitmap> {
  const response = await fetch(path, { signal })
  if (!response.ok) throw new Error(`The picture ${path} could not be loaded.`)
  return createImageBitmap(await response.blob())
}
