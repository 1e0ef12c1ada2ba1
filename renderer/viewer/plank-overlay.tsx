import type { PawMark, Polyline } from '../../analysis/drawing/frame-drawing.ts'
import type { ImagePx } from '../../analysis/geometry/points.ts'
import type { RideFootfall } from '../../analysis/ride/ride.ts'
import type { Settings } from '../../main/contract/settings.ts'
import { type DogExtent, type OverlayPicture, overlayDrawing } from './overlay-drawing.ts'

export interface PlankOverlayProps {
  readonly picture: OverlayPicture
  /** Element of the picture's arrays. */
  readonly element: number
  readonly footfalls: readonly RideFootfall[]
  readonly shows: Settings['overlays']
  /** Size of the clip's pictures, and how wide they are shown, px. */
  readonly clipWidthPx: number
  readonly clipHeightPx: number
  readonly shownWidthPx: number
}

/** What was measured, drawn thin on the frame it was measured in. */
export function PlankOverlay(props: PlankOverlayProps) {
  const { picture, element, footfalls, shows, clipWidthPx, clipHeightPx, shownWidthPx } = props
  const drawing = overlayDrawing(picture, element, footfalls)
  if (drawing === null || shownWidthPx <= 0) return null
  const perPx = shownWidthPx / clipWidthPx
  const at = ({ xPx, yPx }: ImagePx) => `${(xPx * perPx).toFixed(1)},${(yPx * perPx).toFixed(1)}`
  const path = (line: Polyline) => `M${line.map(at).join('L')}`
  const { frame, dog } = drawing
  return (
    <svg className="overlay" viewBox={`0 0 ${shownWidthPx} ${clipHeightPx * perPx}`} aria-hidden="true">
      {shows.plank ? (
        <>
          <Line
            className="overlay-plank"
            d={`${path(frame.upZoneEdge)}${path(frame.middleEdge)}${path(frame.downZoneEdge)}`}
          />
          <Line className="overlay-plank" d={path(frame.pivot)} />
        </>
      ) : null}
      {shows.zones ? (
        <Line
          className="overlay-zone"
          d={`${path(frame.upZoneEdge)}${path(frame.downZoneEdge)}${path(frame.upBorder)}${path(frame.downBorder)}`}
        />
      ) : null}
      {shows.dog ? <Dog outline={frame.dog} extent={dog} path={path} at={at} /> : null}
      {shows.paws ? frame.paws.map((paw) => <Paw key={at(paw.at)} paw={paw} perPx={perPx} />) : null}
    </svg>
  )
}

/** A light line with a dark border, to be seen on any ground. */
function Line({ className, d }: { readonly className: string; readonly d: string }) {
  return (
    <>
      <path className="overlay-halo" d={d} />
      <path className={className} d={d} />
    </>
  )
}

/** The dog's outline; where that is not known, how far it reaches along the plank. */
function Dog(props: {
  readonly outline: Polyline | null
  readonly extent: DogExtent | null
  readonly path: (line: Polyline) => string
  readonly at: (point: ImagePx) => string
}) {
  const { outline, extent, path, at } = props
  if (outline !== null) return <Line className="overlay-dog" d={`${path(outline)}Z`} />
  return extent === null ? null : <Extent dog={extent} path={path} at={at} />
}

function Extent(props: {
  readonly dog: DogExtent
  readonly path: (line: Polyline) => string
  readonly at: (point: ImagePx) => string
}) {
  const { dog, path, at } = props
  return (
    <>
      <Line className="overlay-dog" d={`${path(dog.along)}${path(dog.rear)}${path(dog.lead)}`} />
      {dog.body === null ? null : (
        <path className="overlay-body" d={`M${at(dog.body.tip)}L${at(dog.body.left)}L${at(dog.body.right)}Z`} />
      )}
    </>
  )
}

const PAW_PX = 5

/** A front paw is a full disc, a hind paw a ring. */
function Paw({ paw, perPx }: { readonly paw: PawMark; readonly perPx: number }) {
  return (
    <circle className="overlay-paw" data-limb={paw.limb} cx={paw.at.xPx * perPx} cy={paw.at.yPx * perPx} r={PAW_PX} />
  )
}
