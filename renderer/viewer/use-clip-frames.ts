import { useCallback } from 'react'
import { useClient } from '../host/host-provider.tsx'
import type { LoadFrame } from './use-frames.ts'

/**
 * How the pictures of a clip or of a pack are fetched from the host.
 *
 * @param frameIndex the clip's frame of each element
 */
export function useClipFrames(clipId: string, frameIndex: readonly number[]): LoadFrame {
  const { pictureAddress } = useClient()
  return useCallback(
    (element, signal) => fetchPicture(pictureAddress(clipId, frameIndex[element]!, 'frame'), signal),
    [clipId, frameIndex, pictureAddress],
  )
}

async function fetchPicture(path: string, signal: AbortSignal): Promise<ImageBitmap> {
  const response = await fetch(path, { signal })
  if (!response.ok) throw new Error(`The picture ${path} could not be loaded.`)
  return createImageBitmap(await response.blob())
}
