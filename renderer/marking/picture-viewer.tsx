import { Maximize, ZoomIn, ZoomOut } from 'lucide-react'
import { type Ref, useEffect, useImperativeHandle, useLayoutEffect, useRef, useState } from 'react'
import type { ImagePx } from '../../analysis/geometry/points.ts'
import { useClient } from '../host/host-provider.tsx'
import { IconButton } from '../look/button.tsx'
import { useSteadyImage } from '../look/steady-image.tsx'
import { FitLines } from './fit-lines.tsx'
import type { FitDrawing } from './fit.ts'
import { Magnifier } from './magnifier.tsx'
import { POINT_TITLES, type PointName } from './mark-point.ts'
import {
  imageFromScreen,
  moved,
  type ScreenPx,
  screenFromImage,
  showing,
  type SizePx,
  type View,
  wholePicture,
  zoomed,
} from './view.ts'

/** What others may ask of the viewer. */
export interface ViewerHandle {
  /** Moves the picture just so far that a point is seen. */
  show(point: ImagePx): void
  zoom(by: 'closer' | 'further' | 'whole'): void
  /** The picture point in the middle of what is shown. */
  middle(): ImagePx
}

export interface PictureViewerProps {
  readonly ref: Ref<ViewerHandle>
  readonly clipId: string
  readonly frame: number
  /** Full resolution. */
  readonly picture: SizePx
  readonly drawing: FitDrawing | null
  readonly points: readonly { readonly name: PointName; readonly point: ImagePx | null }[]
  readonly selected: PointName
  /** A click will place a point. */
  readonly isPlacing: boolean
  readonly onSelect: (name: PointName) => void
  readonly onPlace: (point: ImagePx) => void
  readonly onDrag: (name: PointName, point: ImagePx) => void
  readonly onDragEnd: () => void
}

type Grip =
  | { readonly kind: 'point'; readonly name: PointName; readonly byXPx: number; readonly byYPx: number }
  | { readonly kind: 'picture'; readonly from: ScreenPx; readonly view: View; hasMoved: boolean }

/** A point is grabbed within this distance, CSS px. */
const GRAB_PX = 14
/** A press that moves less than this is a click. */
const CLICK_PX = 4

/** The frame at full resolution, to be looked at closely, with the points on it and the fitted seesaw drawn over it. */
export function PictureViewer(props: PictureViewerProps) {
  const { ref, clipId, frame, picture, drawing, points, selected } = props
  const place = useRef<HTMLDivElement>(null)
  const [size, setSize] = useState<SizePx | null>(null)
  // Null: the whole picture, whatever size the window has.
  const [chosen, setChosen] = useState<View | null>(null)
  const [pointer, setPointer] = useState<ImagePx | null>(null)
  const grip = useRef<Grip | null>(null)
  const { pictureAddress } = useClient()
  const quick = useSteadyImage(pictureAddress(clipId, frame, 'frame'))
  const full = useSteadyImage(pictureAddress(clipId, frame, 'full'))
  const view = size === null ? null : (chosen ?? wholePicture(picture, size))

  useLayoutEffect(() => {
    const element = place.current
    if (element === null) return
    const watch = new ResizeObserver(() => setSize({ widthPx: element.clientWidth, heightPx: element.clientHeight }))
    watch.observe(element)
    return () => watch.disconnect()
  }, [])

  useEffect(() => {
    const element = place.current
    if (element === null || size === null) return
    // React listens to the wheel passively; here it must not scroll the window.
    const onWheel = (event: WheelEvent): void => {
      event.preventDefault()
      const about = placeOf(event, element)
      const by = Math.exp(-event.deltaY * (event.deltaMode === 1 ? 0.05 : 0.0016))
      setChosen((now) => zoomed(now ?? wholePicture(picture, size), by, about, picture, size))
    }
    element.addEventListener('wheel', onWheel, { passive: false })
    return () => element.removeEventListener('wheel', onWheel)
  }, [picture, size])

  function zoom(by: 'closer' | 'further' | 'whole'): void {
    if (size === null || view === null) return
    if (by === 'whole') return setChosen(null)
    const point = points.find(({ name }) => name === selected)?.point
    const middle = { leftPx: size.widthPx / 2, topPx: size.heightPx / 2 }
    const about = point == null ? middle : screenFromImage(view, point)
    setChosen(zoomed(view, by === 'closer' ? 1.6 : 1 / 1.6, about, picture, size))
  }

  useImperativeHandle(ref, () => ({
    show(point) {
      if (view !== null && size !== null) setChosen(showing(view, point, picture, size))
    },
    zoom,
    middle() {
      if (view === null || size === null) return { xPx: picture.widthPx / 2, yPx: picture.heightPx / 2 }
      return imageFromScreen(view, { leftPx: size.widthPx / 2, topPx: size.heightPx / 2 })
    },
  }))

  function onPointerDown(event: React.PointerEvent<HTMLDivElement>): void {
    if (view === null || event.button !== 0) return
    const at = placeOf(event, event.currentTarget)
    event.currentTarget.setPointerCapture(event.pointerId)
    const near = points
      .flatMap(({ name, point }) => (point === null ? [] : [{ name, point, on: screenFromImage(view, point) }]))
      .map((one) => ({ ...one, awayPx: Math.hypot(one.on.leftPx - at.leftPx, one.on.topPx - at.topPx) }))
      .sort((a, b) => a.awayPx - b.awayPx)[0]
    if (near !== undefined && near.awayPx <= GRAB_PX) {
      // The point is held where it was grabbed: it does not jump under the pointer.
      const on = imageFromScreen(view, at)
      grip.current = {
        kind: 'point',
        name: near.name,
        byXPx: near.point.xPx - on.xPx,
        byYPx: near.point.yPx - on.yPx,
      }
      props.onSelect(near.name)
    } else {
      grip.current = { kind: 'picture', from: at, view, hasMoved: false }
    }
  }

  function onPointerMove(event: React.PointerEvent<HTMLDivElement>): void {
    if (view === null || size === null) return
    const at = placeOf(event, event.currentTarget)
    const held = grip.current
    const on = imageFromScreen(view, at)
    if (held?.kind === 'point') {
      const point = { xPx: on.xPx + held.byXPx, yPx: on.yPx + held.byYPx }
      setPointer(point)
      props.onDrag(held.name, point)
      return
    }
    setPointer(isIn(on, picture) ? on : null)
    if (held === null) return
    const byX = at.leftPx - held.from.leftPx
    const byY = at.topPx - held.from.topPx
    if (Math.hypot(byX, byY) > CLICK_PX) held.hasMoved = true
    if (held.hasMoved) setChosen(moved(held.view, byX, byY, picture, size))
  }

  function onPointerUp(event: React.PointerEvent<HTMLDivElement>): void {
    const held = grip.current
    grip.current = null
    if (held === null || view === null) return
    if (held.kind === 'point') return props.onDragEnd()
    const on = imageFromScreen(view, placeOf(event, event.currentTarget))
    if (!held.hasMoved && isIn(on, picture)) props.onPlace(on)
  }

  const close = pointer ?? points.find(({ name }) => name === selected)?.point ?? null
  return (
    <div className="viewer">
      <div
        ref={place}
        className="viewer-place"
        data-placing={props.isPlacing}
        onPointerDown={onPointerDown}
        onPointerMove={onPointerMove}
        onPointerUp={onPointerUp}
        onPointerCancel={() => (grip.current = null)}
        onPointerLeave={() => setPointer(null)}
      >
        {view === null ? null : (
          <>
            <div
              className="viewer-picture"
              style={{
                width: picture.widthPx,
                height: picture.heightPx,
                transform: `translate(${view.offsetXPx}px, ${view.offsetYPx}px) scale(${view.zoom})`,
              }}
            >
              {quick.shown === null ? null : <img src={quick.shown} alt="" draggable={false} />}
              {/* A full picture of another frame would lie over the right one. */}
              {full.shown !== pictureAddress(clipId, frame, 'full') ? null : (
                <img
                  src={full.shown}
                  alt={`Frame ${frame} of the clip`}
                  draggable={false}
                  data-close={view.zoom >= 3}
                />
              )}
            </div>
            <svg className="viewer-lines" aria-hidden="true">
              {drawing === null ? null : <FitLines drawing={drawing} view={view} />}
              {points.map(({ name, point }) => {
                if (point === null) return null
                const { leftPx, topPx } = screenFromImage(view, point)
                return (
                  <g key={name} className="viewer-point" data-selected={name === selected}>
                    <title>{POINT_TITLES[name]}</title>
                    <circle cx={leftPx} cy={topPx} r="8" />
                    <path d={`M${leftPx - 4} ${topPx} h8 M${leftPx} ${topPx - 4} v8`} />
                  </g>
                )
              })}
            </svg>
          </>
        )}
        {full.isFailed && quick.isFailed ? <p className="viewer-failed">This frame could not be read.</p> : null}
      </div>
      {close === null || size === null || view === null ? null : (
        <Magnifier
          at={close}
          picture={picture}
          source={full.shown === pictureAddress(clipId, frame, 'full') ? full.shown : quick.shown}
          drawing={drawing}
          sizePx={size.widthPx < 560 ? 120 : 168}
          side={screenFromImage(view, close).leftPx < size.widthPx / 2 ? 'right' : 'left'}
        />
      )}
      <div className="viewer-zoom">
        <IconButton label="Zoom in" shortcut="+" onPress={() => zoom('closer')}>
          <ZoomIn aria-hidden="true" />
        </IconButton>
        <IconButton label="Zoom out" shortcut="-" onPress={() => zoom('further')}>
          <ZoomOut aria-hidden="true" />
        </IconButton>
        <IconButton label="Whole picture" shortcut="0" onPress={() => zoom('whole')}>
          <Maximize aria-hidden="true" />
        </IconButton>
      </div>
    </div>
  )
}

function placeOf({ clientX, clientY }: { clientX: number; clientY: number }, element: Element): ScreenPx {
  const { left, top } = element.getBoundingClientRect()
  return { leftPx: clientX - left, topPx: clientY - top }
}

function isIn({ xPx, yPx }: ImagePx, { widthPx, heightPx }: SizePx): boolean {
  return xPx >= 0 && yPx >= 0 && xPx <= widthPx && yPx <= heightPx
}
