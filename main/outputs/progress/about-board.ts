import type { Estimate } from '../../../analysis/estimate.ts'

/** What a file of rides says of its boards, by their names: what they are made of, and how they feel, s. */
export function aboutBoard(
  boards: readonly { readonly name: string; readonly material?: unknown; readonly feelS?: Estimate }[],
): (board: string) => { readonly material: string | null; readonly feelS: number | null } {
  const byName = new Map(boards.map((board) => [board.name.trim(), board]))
  return (name) => {
    const { material, feelS } = byName.get(name) ?? {}
    return {
      material: typeof material === 'string' ? material : null,
      feelS: feelS?.kind === 'measured' ? feelS.value : null,
    }
  }
}
