import { useEffect, useState } from 'react'
import type { PicturesState } from '../../main/contract/clips.ts'
import { useCall, useChange, useHappenings } from '../host/use-call.ts'
import { Progress } from '../look/progress.tsx'

/** Has the clip's pictures prepared for stepping, and shows how far that is; nothing once they are ready. */
export function PicturesProgress({ clipId }: { readonly clipId: string }) {
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
  const state = told ?? clip.data?.pictures
  if (state?.kind !== 'preparing') return null
  return (
    <div className="pictures-progress">
      <Progress
        label="Preparing pictures for stepping"
        shareDone={state.framesTotal === 0 ? null : state.framesDone / state.framesTotal}
      />
    </div>
  )
}
