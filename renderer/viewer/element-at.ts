/** The element that is shown at a moment of real time: the last one that has begun, the first before any has. */
export function elementAt(ptsS: ArrayLike<number>, atS: number): number {
  let low = 0
  let high = ptsS.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (ptsS[middle]! <= atS) low = middle
    else high = middle - 1
  }
  return low
}
