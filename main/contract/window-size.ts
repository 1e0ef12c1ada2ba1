/** The smallest window in which every screen works, CSS px. */
export const LEAST_WINDOW = { widthPx: 1024, heightPx: 640 } as const
