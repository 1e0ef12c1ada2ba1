import type { Board } from './board.ts'

/** What a board's lengths, m, and mass, kg, may be: both ends included. */
export interface Limits {
  readonly min: number
  readonly max: number
}

/**
 * Wide enough for training boards and for the biggest ones of any rule book. Paws are looked for up to 4.3 m along, and
 * the longest seesaw that a rule book allowed is 14 ft (4.27 m, from memory).
 */
export const BOARD_LIMITS = {
  lengthM: { min: 1, max: 4.3 },
  widthM: { min: 0.1, max: 1 },
  pivotHeightM: { min: 0.05, max: 1.2 },
  contactM: { min: 0.1, max: 2 },
  thicknessM: { min: 0.005, max: 0.2 },
  axisBelowTopM: { min: 0, max: 0.1 },
  massKg: { min: 1, max: 100 },
} as const satisfies Readonly<Record<string, Limits>>

/** What a counterweight that is fastened to a board weighs, kg: a coin's worth up to more than any plank needs. */
export const COUNTERWEIGHT_KG = { min: 0.01, max: 50 } as const satisfies Limits

/**
 * What is wrong with a board whose numbers are each in range but do not fit one another.
 *
 * @param board lengths in m
 * @returns the field and a sentence about it without its subject; null for a board that can be
 */
export function boardFault(
  board: Board,
): { readonly field: 'contactM' | 'pivotHeightM'; readonly what: string } | null {
  const halfM = board.lengthM / 2
  const mustBeLess = (field: 'contactM' | 'pivotHeightM', thing: string) => ({
    field,
    what: `must be less than half of lengthM (${halfM} m), got ${board[field]} m; ${thing}`,
  })
  if (board.contactM >= halfM) return mustBeLess('contactM', 'it is the length of one zone, from its end')
  if (board.pivotHeightM >= halfM) return mustBeLess('pivotHeightM', 'it is the height of the level plank')
  return null
}
