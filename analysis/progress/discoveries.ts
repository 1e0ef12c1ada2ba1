/**
 * Which of several findings may be believed together: the procedure of Benjamini and Hochberg (J R Stat Soc B 1995,
 * 57:289), which holds the expected share of false ones among those believed below a level.
 *
 * @param pValues of the findings, each 0 to 1
 * @param level 0 to 1, for instance 0.05
 * @returns for each finding whether it may be believed
 */
export function believable(pValues: readonly number[], level: number): boolean[] {
  const order = [...pValues.keys()].sort((a, b) => pValues[a]! - pValues[b]!)
  let last = -1
  order.forEach((k, rank) => {
    if (pValues[k]! <= (level * (rank + 1)) / pValues.length) last = rank
  })
  const chosen = new Set(order.slice(0, last + 1))
  return pValues.map((_, k) => chosen.has(k))
}
