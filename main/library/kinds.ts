/** The kinds of things that a library keeps, each in a folder of this name. */
export const KINDS = ['dogs', 'boards', 'clips', 'rides', 'noted'] as const
export type Kind = (typeof KINDS)[number]
