/** WCAG 2.2 relative luminance of `#rrggbb`. */
function luminance(colour: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const share = parseInt(colour.slice(at, at + 2), 16) / 255
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4
  }) as [number, number, number]
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/** WCAG 2.2 contrast ratio of two colours: 21 for black on white. */
export function contrast(a: string, b: string): number {
  const [darker, lighter] = [luminance(a), luminance(b)].sort((p, q) => p - q) as [number, number]
  return (lighter + 0.05) / (darker + 0.05)
}
