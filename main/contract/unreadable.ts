/** Something of the library that cannot be read, and was moved aside so that everything else can be shown. */
export interface UnreadableThing {
  readonly kind: 'dog' | 'board' | 'clip' | 'ride'
  readonly id: string
  /** What it is called, as far as that can still be read. */
  readonly name: string | null
  /** What is wrong with its card, for whoever mends it: "addedAt: expected number". */
  readonly why: string
  /** Absolute path of the folder where all that is left of it lies. */
  readonly folder: string
}
