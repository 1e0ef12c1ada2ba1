/**
 * One decoded picture: planar 8-bit 4:2:0, a crop of the displayed picture at a reduced scale.
 * `view` maps between its pixels and full-resolution image px.
 */
export interface Frame {
  /** Zero-based index in display order within the whole clip. */
  readonly index: number
  /** The clip's own timestamp in s of real time (divided by the slow-motion factor), first video frame = 0. */
  readonly ptsS: number
  readonly view: View
  /** Luma, `view.widthPx * view.heightPx`, row by row. */
  readonly y: Uint8Array
  /** Chroma at half size in both directions: `(widthPx / 2) * (heightPx / 2)`, row by row. Width and height are even. */
  readonly u: Uint8Array
  readonly v: Uint8Array
  /** True where the decoder could not make the picture out, or builds on one that it could not; absent: it is sound. */
  readonly isDamaged?: boolean
}

/** A frame of its own, for those that outlive the reading of the next one: its arrays are copied. */
export function copyFrame(frame: Frame): Frame {
  return { ...frame, y: frame.y.slice(), u: frame.u.slice(), v: frame.v.slice() }
}

/** Where a decoded picture lies in the displayed one: `xDecoded = (xPx - originXPx) * scale`, likewise y. */
export interface View {
  readonly widthPx: number
  readonly heightPx: number
  readonly originXPx: number
  readonly originYPx: number
  /** Decoded px per full-resolution px, at most 1; the same in x and y. */
  readonly scale: number
}

/** What the container says about a clip, after rotation and squaring of pixels. */
export interface ClipInfo {
  readonly fileName: string
  readonly sha256: string
  readonly widthPx: number
  readonly heightPx: number
  readonly rotationDeg: number
  readonly frameCount: number
  /** Of real time. */
  readonly durationS: number
  readonly captureRateHz: number
  readonly slowMotionFactor: number
  /** Why this factor: a sentence for the user. */
  readonly slowMotionEvidence: string
  readonly marksFrom?: ClipOrigins['marksFrom']
  readonly boardFrom?: ClipOrigins['boardFrom']
}

/** Where the marks and the board that a clip was measured with come from; absent: from a person, or not written down. */
export interface ClipOrigins {
  /** `found`: by the program in the picture; `carried`: from a clip of the same place. */
  readonly marksFrom?: 'file' | 'found' | 'carried'
  /** `assumed`: nobody gave one, so that lengths are provisional. */
  readonly boardFrom?: 'file' | 'assumed'
}
