/** Frame numbers of a clip that marks may name; three days at 30 frames a second. */
export const FRAME_LIMITS = { min: 0, max: 10_000_000 } as const

/** Where a mark may lie, px: a little outside the picture too, where an end is just cut off. */
export const POINT_LIMITS_PX = { min: -20_000, max: 40_000 } as const

/** Two ends marked closer together than this are no plank that carries a calibration, px. */
export const SHORTEST_PLANK_PX = 60
