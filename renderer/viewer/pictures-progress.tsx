import './viewer.css'
import { useEffect, useState } from 'react'
import type { PicturesState } from '../../main/contract/clips.ts'
import { useCall, useChange, useHappenings } from '../host/use-call.ts'
import { Progress } from '../look/progress.tsx'

/** Has the clip's pictures prepared for stepping, and says how far that is. */
export function usePictures(clipId: string): PicturesState {
  const clip = useCall('clips.get', { clipId })
  const { mutate: prepare } = useChange('clips.preparePictures')
  const [told, setTold] = useState<PicturesState | null>(null)
  useHappenings((happening) => {
    if (happening.kind !== 'pictures' || happening.clipId !== clipId) return
    const { framesDone, framesTotal } = happening
    setTold(framesDone >= framesTotal ? { kind: 'ready' } : { kind: 'preparing', framesDone, framesTotal })
  })
  const isMissing = clip.data?.pictures.kind === 'none'
  useEffect(() => {
    if (isMissing) prepare({ clipId })
  }, [isMissing, prepare, clipId])
  return told ?? clip.data?.pictures ?? { kind: 'none' }
}

/** How far the preparing is; nothing once the pictures are ready. */
export function PicturesProgress({ state }: { readonly state: PicturesState }) {
  if (state.kind !== 'preparing') return null
  return (
    <div className="pictures-progress">
      <Progress
        label="Preparing frames"
        shareDone={state.framesTotal === 0 ? null : state.framesDone / state.framesTotal}
      />
    </div>
  )
}
