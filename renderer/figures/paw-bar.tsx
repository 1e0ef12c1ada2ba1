import type { RideFootfall } from '../../analysis/ride/ride.ts'

export interface PawBarProps {
  readonly limb: RideFootfall['limb']
  readonly fromPx: number
  readonly toPx: number
  readonly yPx: number
  readonly thickPx: number
  /** 0-1: an unsure paw is fainter. */
  readonly confidence?: number
}

/** A planted paw as a level bar: a front paw is full, a hind paw hollow, an unknown one broken. */
export function PawBar({ limb, fromPx, toPx, yPx, thickPx, confidence = 1 }: PawBarProps) {
  // The border of a hollow bar lies half outside of it: drawn inwards, both are equally thick.
  const inset = limb === 'front' ? 0 : BORDER_PX / 2
  const widthPx = Math.max(toPx - fromPx, thickPx) - 2 * inset
  return (
    <rect
      className={`chart-paw ${limb}`}
      x={fromPx + inset}
      width={widthPx}
      y={yPx - thickPx / 2 + inset}
      height={thickPx - 2 * inset}
      rx={thickPx / 2 - inset}
      strokeWidth={limb === 'front' ? 0 : BORDER_PX}
      opacity={0.45 + 0.55 * confidence}
    />
  )
}

const BORDER_PX = 1.6
