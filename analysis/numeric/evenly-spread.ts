/**
 * So many of a list, evenly spread.
 *
 * @param list anything, in order
 * @param most how many at most
 * @returns all of a short list, else `most` of it, the first among them
 * @example evenlySpread([1, 2, 3, 4, 5, 6], 3) // [1, 3, 5]
 */
export function evenlySpread<T>(list: readonly T[], most: number): T[] {
  const step = Math.max(1, list.length / most)
  return list.filter((_, k) => Math.floor(k / step) !== Math.floor((k - 1) / step))
}
