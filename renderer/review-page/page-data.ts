import type { PackDetail } from '../../main/contract/review.ts'

/** What lies in the page: the pack, and the pictures of those frames that the page shows. */
export interface PageData {
  readonly detail: PackDetail
  /** JPEG files, one for each frame of the film in `detail`. */
  readonly pictures: readonly string[]
  /** Every frame of the film, or every second, third ... */
  readonly step: number
}

interface Embedded {
  readonly detail: PackDetail
  readonly frames: readonly { readonly frame: number; readonly jpeg: string }[]
}

/** Reads what the program put into the page; the film is thinned to the frames that have a picture. */
export function pageData(text: string): PageData {
  const { detail, frames } = JSON.parse(text) as Embedded
  const { film } = detail
  const { frameIndex, angleRad, cameraMotion, outlines } = film.picture
  const picked = <T>(all: readonly T[]): readonly T[] => frames.map(({ frame }) => all[frame]!)
  const picture = {
    ...film.picture,
    frameIndex: picked(frameIndex),
    angleRad: picked(angleRad),
    cameraMotion: picked(cameraMotion),
    ...(outlines === undefined ? {} : { outlines: picked(outlines) }),
  }
  return {
    detail: { ...detail, film: { ...film, ptsS: picked(film.ptsS), picture } },
    pictures: frames.map(({ jpeg }) => jpeg),
    step: (frames[1]?.frame ?? 1) - (frames[0]?.frame ?? 0),
  }
}

/** A picture of the page, decoded. */
export function decoded(jpeg: string): Promise<ImageBitmap> {
  const bytes = Uint8Array.from(atob(jpeg), (letter) => letter.charCodeAt(0))
  return createImageBitmap(new Blob([bytes], { type: 'image/jpeg' }))
}
