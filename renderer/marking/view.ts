import type { ImagePx } from '../../analysis/geometry/points.ts'

/** How the picture lies in its frame on the screen: `screen = offset + zoom * image`. */
export interface View {
  /** Screen px (CSS) for each px of the full-resolution picture. */
  readonly zoom: number
  readonly offsetXPx: number
  readonly offsetYPx: number
}

export interface SizePx {
  readonly widthPx: number
  readonly heightPx: number
}

/** A place in the picture's frame on the screen, CSS px from its top left corner. */
export interface ScreenPx {
  readonly leftPx: number
  readonly topPx: number
}

const MOST_ZOOM = 24

/** The whole picture, in the middle of its frame. */
export function wholePicture(picture: SizePx, frame: SizePx): View {
  const zoom = Math.min(frame.widthPx / picture.widthPx, frame.heightPx / picture.heightPx)
  return {
    zoom,
    offsetXPx: (frame.widthPx - zoom * picture.widthPx) / 2,
    offsetYPx: (frame.heightPx - zoom * picture.heightPx) / 2,
  }
}

export function screenFromImage(view: View, { xPx, yPx }: ImagePx): ScreenPx {
  return { leftPx: view.offsetXPx + view.zoom * xPx, topPx: view.offsetYPx + view.zoom * yPx }
}

export function imageFromScreen(view: View, { leftPx, topPx }: ScreenPx): ImagePx {
  return { xPx: (leftPx - view.offsetXPx) / view.zoom, yPx: (topPx - view.offsetYPx) / view.zoom }
}

/** Closer (`by` > 1) or further, with `about` held in place; never further than the whole picture. */
export function zoomed(view: View, by: number, about: ScreenPx, picture: SizePx, frame: SizePx): View {
  const least = wholePicture(picture, frame)
  const zoom = Math.min(MOST_ZOOM, view.zoom * by)
  if (zoom <= least.zoom) return least
  const fixed = imageFromScreen(view, about)
  return within(
    { zoom, offsetXPx: about.leftPx - zoom * fixed.xPx, offsetYPx: about.topPx - zoom * fixed.yPx },
    picture,
    frame,
  )
}

export function moved(view: View, byXPx: number, byYPx: number, picture: SizePx, frame: SizePx): View {
  return within({ ...view, offsetXPx: view.offsetXPx + byXPx, offsetYPx: view.offsetYPx + byYPx }, picture, frame)
}

/** Moved just so far that a point of the picture is seen with some room around it. */
export function showing(view: View, point: ImagePx, picture: SizePx, frame: SizePx): View {
  const { leftPx, topPx } = screenFromImage(view, point)
  const roomX = Math.min(60, frame.widthPx / 4)
  const roomY = Math.min(60, frame.heightPx / 4)
  const byX = Math.max(roomX - leftPx, 0) + Math.min(frame.widthPx - roomX - leftPx, 0)
  const byY = Math.max(roomY - topPx, 0) + Math.min(frame.heightPx - roomY - topPx, 0)
  return byX === 0 && byY === 0 ? view : moved(view, byX, byY, picture, frame)
}

/** No further from the frame's edges than needed: a picture that fills the frame leaves no gap, another stays centred. */
function within(view: View, picture: SizePx, frame: SizePx): View {
  return {
    zoom: view.zoom,
    offsetXPx: held(view.offsetXPx, view.zoom * picture.widthPx, frame.widthPx),
    offsetYPx: held(view.offsetYPx, view.zoom * picture.heightPx, frame.heightPx),
  }
}

function held(offsetPx: number, picturePx: number, framePx: number): number {
  if (picturePx <= framePx) return (framePx - picturePx) / 2
  return Math.min(0, Math.max(framePx - picturePx, offsetPx))
}
