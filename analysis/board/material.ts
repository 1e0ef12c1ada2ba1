/** What planks are made of, as far as it shows in how they fall and sound. */
export type Material = 'wood' | 'aluminium'

/**
 * The material that a board's entry names.
 *
 * @param word as people write it: "wood", "plywood", "Aluminium"; undefined or null: none was entered
 * @returns null for none and for any other
 */
export function materialOf(word: string | null | undefined): Material | null {
  if (word === null || word === undefined) return null
  if (/wood|ply|timber/i.test(word)) return 'wood'
  return /alu/i.test(word) ? 'aluminium' : null
}
