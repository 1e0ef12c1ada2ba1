import { useLayoutEffect, useMemo, useRef } from 'react'
import { shownMatrix } from '../../analysis/review/laid-over.ts'
import type { Settings } from '../../main/contract/settings.ts'
import { FramePicture } from '../viewer/frame-picture.tsx'
import { plankPicture } from '../viewer/overlay-drawing.ts'
import { PlankOverlay } from '../viewer/plank-overlay.tsx'
import type { WholeRide } from './whole-ride.ts'

export interface PairedFilmProps {
  readonly whole: WholeRide
  readonly name: string
  readonly element: number
  readonly picture: ImageBitmap | null
  readonly overlays: Settings['overlays']
  /** What is laid over it; null: nothing. */
  readonly over: {
    readonly homography: Float64Array
    readonly picture: ImageBitmap | null
    readonly of: WholeRide
  } | null
}

/** The film of one of two rides. */
export function PairedFilm({ whole: { detail, clip }, name, element, picture, overlays, over }: PairedFilmProps) {
  const { ptsS, leadPawM, rearPawM, bodyM } = detail.current.frames
  const drawn = useMemo(
    () => ({ ...plankPicture(detail.picture, Float64Array.from(ptsS)), leadPawM, rearPawM, bodyM }),
    [detail.picture, ptsS, leadPawM, rearPawM, bodyM],
  )
  const { widthPx, heightPx } = clip.facts
  return (
    <section className="pair-film" aria-label={name}>
      <h2>
        <bdi>{name}</bdi>
      </h2>
      <FramePicture
        picture={picture}
        label={`${name}, frame ${detail.picture.frameIndex[element] ?? 0}`}
        widthPx={widthPx}
        heightPx={heightPx}
        onPoint={null}
      >
        {(shownWidthPx) => (
          <>
            {over === null || shownWidthPx <= 0 ? null : <Over over={over} perPx={shownWidthPx / widthPx} />}
            <PlankOverlay
              picture={drawn}
              element={element}
              footfalls={detail.current.footfalls}
              shows={overlays}
              clipWidthPx={widthPx}
              clipHeightPx={heightPx}
              shownWidthPx={shownWidthPx}
            />
          </>
        )}
      </FramePicture>
    </section>
  )
}

function Over({ over, perPx }: { readonly over: NonNullable<PairedFilmProps['over']>; readonly perPx: number }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const { picture, homography, of } = over
  useLayoutEffect(() => {
    const { current } = canvas
    if (current === null || picture === null) return
    current.width = picture.width
    current.height = picture.height
    current.getContext('2d')?.drawImage(picture, 0, 0)
  }, [picture])
  const { widthPx, heightPx } = of.clip.facts
  return (
    <canvas
      ref={canvas}
      className="pair-over"
      style={{
        width: widthPx * perPx,
        height: heightPx * perPx,
        transform: `matrix3d(${shownMatrix(homography, perPx).join()})`,
      }}
    />
  )
}
