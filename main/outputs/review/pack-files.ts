/** The files of a review pack; all lie side by side, none in a folder. */
export const PACK_FILES = {
  readMe: 'READ-ME.txt',
  pack: 'pack.json',
  ride: 'ride.json',
  picture: 'picture.json',
  corrections: 'corrections.json',
  marks: 'marks.json',
  comments: 'comments.json',
  clip: 'clip.mp4',
  page: 'review.html',
} as const

export const PACK_FORMAT = 'tiphold.review-pack/1'

/** `pack.json`: what a pack says of itself. */
export interface PackInfo {
  readonly format: typeof PACK_FORMAT
  readonly packId: string
  /** The ride in the handler's library, for which replies are. */
  readonly rideId: string
  /** ISO 8601. */
  readonly madeAt: string
  readonly program: { readonly version: string }
  readonly handler: { readonly id: string; readonly name: string }
  readonly dogName: string
  readonly title: string
  readonly film: {
    /** Of the frames in `ride.json`, the first and the last that the film shows. */
    readonly firstElement: number
    readonly lastElement: number
    /** Size of the clip that the marks belong to, px; the film may be smaller. */
    readonly widthPx: number
    readonly heightPx: number
  }
  /** SHA-256 of each file that a program reads. */
  readonly files: Readonly<Record<string, string>>
}

/** The most that a pack may hold; a larger one is refused before it is unpacked. */
export const PACK_LIMITS = {
  packBytes: 700 * 2 ** 20,
  files: 40,
  clipBytes: 500 * 2 ** 20,
  /** `ride.json` and the like, each. */
  jsonBytes: 40 * 2 ** 20,
  /** `comments.json` and a reply. */
  commentsBytes: 20 * 2 ** 20,
  frames: 40_000,
} as const

/** A pack or a reply that is not shown. The message is one sentence: what is wrong and what to do. */
export class PackProblem extends Error {
  constructor(message: string) {
    super(message)
    this.name = 'PackProblem'
  }
}
