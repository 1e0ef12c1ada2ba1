/** The unit of outlines, m. */
export const OUTLINE_UNIT_M = 0.005

/**
 * A closed line about the dog as it appears in the plane through the plank's near edge: along and above in turns, in
 * units of 5 mm, the last point joined to the first.
 */
export type Outline = readonly number[]
