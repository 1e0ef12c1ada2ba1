/**
 * Takes away what lies below a frequency, without moving or smearing an onset to earlier times.
 *
 * Method: second-order Butterworth high-pass, run forwards only (bilinear transform). Source: any text on digital filters.
 *
 * @param samples a sound
 * @param rateHz samples per second
 * @param cornerHz where the filter lets half the power through; below rateHz / 2
 * @returns a new sound of the same length
 */
export function highPass(samples: Float32Array, rateHz: number, cornerHz: number): Float32Array {
  const k = Math.tan((Math.PI * cornerHz) / rateHz)
  const scale = 1 / (1 + Math.SQRT2 * k + k * k)
  const [back1, back2] = [2 * (k * k - 1) * scale, (1 - Math.SQRT2 * k + k * k) * scale]
  const out = new Float32Array(samples.length)
  let [x1, x2, y1, y2] = [0, 0, 0, 0]
  for (let i = 0; i < samples.length; i++) {
    const x = samples[i] ?? 0
    const y = scale * (x - 2 * x1 + x2) - back1 * y1 - back2 * y2
    ;[x2, x1, y2, y1] = [x1, x, y1, y]
    out[i] = y
  }
  return out
}
