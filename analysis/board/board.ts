/** What a user knows about a board (`board.json`); definitions in the README. All lengths in metres, mass in kg. */
export interface Board {
  /** Length of the top surface. */
  readonly lengthM: number
  readonly widthM: number
  /** Height of the top surface over the ground at mid length with the plank level. */
  readonly pivotHeightM: number
  /** Length of each contact zone, from its end. */
  readonly contactM: number
  readonly thicknessM?: number
  /** How far the turning axis lies below the top surface, 0-0.10. */
  readonly axisBelowTopM?: number
  readonly massKg?: number
  readonly materialWord?: string
}
