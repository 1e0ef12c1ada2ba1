/** Something that was removed. It can be put back, as it was and under its own id, until its time is over. */
export interface Removed {
  /** What `bin.putBack` takes. */
  readonly removedId: string
  readonly kind: 'dog' | 'board' | 'clip' | 'ride' | 'pack'
  /** The id that it had and will have again. */
  readonly id: string
  /** What it is called in lists. */
  readonly name: string
  /** How many rides went along: those of a clip, those without a film of a dog; 0 for everything else. */
  readonly rides: number
  /** ISO 8601. */
  readonly removedAt: string
  /** ISO 8601; from then on it may be deleted for good. */
  readonly keptUntil: string
}
