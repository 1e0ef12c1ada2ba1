/**
 * The angle at the middle one of three points of the picture, degrees, 0 to 180: `angleDeg([[1, 0], [0, 0], [0, 1]])`
 * is 90. It is an angle of the picture: seen from the side it is the dog's, from elsewhere it is not.
 */
export function angleDeg(points: readonly (readonly [xPx: number, yPx: number])[]): number {
  const [[ax, ay], [bx, by], [cx, cy]] = points as [[number, number], [number, number], [number, number]]
  const turn = Math.atan2(ay - by, ax - bx) - Math.atan2(cy - by, cx - bx)
  const deg = Math.abs((turn * 180) / Math.PI) % 360
  return deg > 180 ? 360 - deg : deg
}
