import type { PointerEvent as ReactPointerEvent } from 'react'

export interface DragMove {
  /** From where it began, px. */
  readonly dxPx: number
  readonly dyPx: number
  /** In the window, px. */
  readonly clientXPx: number
}

/** Less than this is a click, px. */
const CLICK_PX = 3

/**
 * Follows the pointer from a press until it is let go; a press without a move is no drag. The window is listened to,
 * because what was pressed may be drawn anew meanwhile.
 */
export function followDrag(
  press: ReactPointerEvent<Element>,
  onMove: (move: DragMove) => void,
  onEnd: () => void,
): void {
  if (press.button !== 0) return
  const { pointerId, clientX, clientY } = press
  let isDragging = false
  const move = (event: PointerEvent): void => {
    if (event.pointerId !== pointerId) return
    const dxPx = event.clientX - clientX
    const dyPx = event.clientY - clientY
    isDragging ||= Math.hypot(dxPx, dyPx) > CLICK_PX
    if (isDragging) onMove({ dxPx, dyPx, clientXPx: event.clientX })
  }
  const end = (event: PointerEvent): void => {
    if (event.pointerId !== pointerId) return
    window.removeEventListener('pointermove', move)
    window.removeEventListener('pointerup', end)
    window.removeEventListener('pointercancel', end)
    if (isDragging) onEnd()
  }
  window.addEventListener('pointermove', move)
  window.addEventListener('pointerup', end)
  window.addEventListener('pointercancel', end)
}
