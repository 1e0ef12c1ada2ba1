/** Steps of the arrow keys, full-resolution px. */
const STEP_PX = { fine: 0.25, shift: 2, control: 25 } as const

const WAYS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
}

/** How far a key moves a point; null for keys that move nothing. */
export function nudgeOf(event: {
  readonly key: string
  readonly shiftKey: boolean
  readonly ctrlKey: boolean
}): { readonly byXPx: number; readonly byYPx: number } | null {
  const way = WAYS[event.key]
  if (way === undefined) return null
  const stepPx = event.ctrlKey ? STEP_PX.control : event.shiftKey ? STEP_PX.shift : STEP_PX.fine
  return { byXPx: way[0] * stepPx, byYPx: way[1] * stepPx }
}
