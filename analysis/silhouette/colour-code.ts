/** Steps of each of Y, U, V that a colour is told apart in. */
const STEPS = 16
/** How many colours there are. */
export const COLOUR_COUNT = STEPS ** 3

/**
 * A colour in 4096 steps: 16 of luma, 16 of each chroma within what clothes and coats have.
 *
 * @param y luma, 0-255
 * @param u chroma, 0-255
 * @param v likewise
 * @returns 0 to 4095
 * @example colourCode(100, 128, 128) // 1672
 */
export function colourCode(y: number, u: number, v: number): number {
  return (step(y / 16) << 8) | (step((u - 64) / 8) << 4) | step((v - 64) / 8)
}

function step(value: number): number {
  return Math.max(0, Math.min(STEPS - 1, Math.floor(value)))
}

/**
 * Lets each colour count partly as its neighbours: no coat is of one colour, and few samples must do.
 *
 * @param counts one a colour
 * @returns as many in all, spread by half a step each way along all three axes
 */
export function softened(counts: Float32Array): Float32Array {
  let from = counts
  for (const stride of [1, STEPS, STEPS * STEPS]) {
    const into = new Float32Array(COLOUR_COUNT)
    for (let code = 0; code < COLOUR_COUNT; code++) {
      const place = Math.floor(code / stride) % STEPS
      const less = place > 0 ? from[code - stride]! : from[code]!
      const more = place < STEPS - 1 ? from[code + stride]! : from[code]!
      into[code] = 0.5 * from[code]! + 0.25 * (less + more)
    }
    from = into
  }
  return from
}
