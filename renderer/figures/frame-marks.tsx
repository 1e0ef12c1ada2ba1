import type { FrameDrawing, PawMark, Polyline } from '../../analysis/drawing/frame-drawing.ts'
import type { ImagePx } from '../../analysis/geometry/points.ts'

/** From rearmost to foremost paw, along the near edge a little below it; full-resolution image px. */
export interface DogExtent {
  readonly along: Polyline
  readonly rear: Polyline
  readonly lead: Polyline
  /** Where the body's centre is. */
  readonly body: { readonly tip: ImagePx; readonly left: ImagePx; readonly right: ImagePx } | null
}

export interface FrameMarksProps {
  readonly drawing: FrameDrawing
  /** Drawn where the dog's outline is not known. */
  readonly extent?: DogExtent | null
  readonly shows?: { readonly plank: boolean; readonly zones: boolean; readonly paws: boolean; readonly dog: boolean }
  /** Where the picture begins in the full frame, image px, and how many px of the drawing one of them becomes. */
  readonly originXPx?: number
  readonly originYPx?: number
  readonly perPx: number
}

const EVERYTHING = { plank: true, zones: true, paws: true, dog: true }

/** What was measured, drawn thin on the frame it was measured in; lines are of the same strength at any size. */
export function FrameMarks(props: FrameMarksProps) {
  const { drawing, extent = null, shows = EVERYTHING, originXPx = 0, originYPx = 0, perPx } = props
  const place = ({ xPx, yPx }: ImagePx) => ({ x: (xPx - originXPx) * perPx, y: (yPx - originYPx) * perPx })
  const at = (point: ImagePx) => `${place(point).x.toFixed(1)},${place(point).y.toFixed(1)}`
  const path = (line: Polyline) => `M${line.map(at).join('L')}`
  const { upZoneEdge, middleEdge, downZoneEdge, upBorder, downBorder, pivot, paws, dog } = drawing
  return (
    <g>
      {shows.plank ? (
        <>
          <Line className="overlay-plank" d={`${path(upZoneEdge)}${path(middleEdge)}${path(downZoneEdge)}`} />
          <Line className="overlay-plank" d={path(pivot)} />
        </>
      ) : null}
      {shows.zones ? (
        <Line
          className="overlay-zone"
          d={`${path(upZoneEdge)}${path(downZoneEdge)}${path(upBorder)}${path(downBorder)}`}
        />
      ) : null}
      {shows.dog && dog !== null ? <Line className="overlay-dog" d={`${path(dog)}Z`} /> : null}
      {shows.dog && dog === null && extent !== null ? (
        <>
          <Line className="overlay-dog" d={`${path(extent.along)}${path(extent.rear)}${path(extent.lead)}`} />
          {extent.body === null ? null : (
            <path
              className="overlay-body"
              d={`M${at(extent.body.tip)}L${at(extent.body.left)}L${at(extent.body.right)}Z`}
            />
          )}
        </>
      ) : null}
      {shows.paws ? paws.map((paw, k) => <Paw key={k} paw={paw} {...place(paw.at)} />) : null}
    </g>
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

const PAW_PX = 5

/** A front paw is a full disc, a hind paw a ring. */
function Paw({ paw, x, y }: { readonly paw: PawMark; readonly x: number; readonly y: number }) {
  return <circle className={`overlay-paw ${paw.limb}`} cx={x} cy={y} r={PAW_PX} />
}
