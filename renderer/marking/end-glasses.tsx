import type { MarksDraft } from '../../main/contract/clips.ts'
import { useClient } from '../host/host-provider.tsx'
import type { Fit } from './fit.ts'
import { Magnifier } from './magnifier.tsx'
import { type Moment, pointOf, type PointName } from './mark-point.ts'
import type { SizePx } from './view.ts'

export interface EndGlassesProps {
  readonly clipId: string
  readonly marks: MarksDraft
  readonly picture: SizePx
  readonly fit: Fit | null
}

const ENDS: readonly { readonly moment: Moment; readonly name: PointName; readonly title: string }[] = [
  { moment: 'rest', name: 'entryEnd', title: 'Entry end, at rest' },
  { moment: 'rest', name: 'exitEnd', title: 'Exit end, at rest' },
  { moment: 'grounded', name: 'entryEnd', title: 'Entry end, up' },
  { moment: 'grounded', name: 'exitEnd', title: 'Exit end, down' },
]
const SIZE_PX = 116

/** Both ends of the plank under a magnifier, at rest and landed: a wrong edge shows there first. */
export function EndGlasses({ clipId, marks, picture, fit }: EndGlassesProps) {
  const { pictureAddress } = useClient()
  return (
    <div className="end-glasses">
      {ENDS.map(({ moment, name, title }) => {
        const at = pointOf(marks, { moment, name })
        const frame = marks[moment]?.frame
        if (at === null || frame === undefined) return null
        return (
          <figure key={title}>
            <Magnifier
              at={at}
              picture={picture}
              source={pictureAddress(clipId, frame, 'full')}
              drawing={fit?.kind === 'fitted' ? fit.drawings[moment] : null}
              side="left"
              sizePx={SIZE_PX}
            />
            <figcaption className="small soft">{title}</figcaption>
          </figure>
        )
      })}
    </div>
  )
}
