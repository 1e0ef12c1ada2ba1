import type { Estimate, Measured } from '../../analysis/estimate.ts'
import { fixed, marginInWords } from '../../analysis/words/in-words.ts'

/** An instant of the clip: "3.272 s". */
export function momentInWords(atS: number): string {
  return `${fixed(atS, 3)} s`
}

/** An instant with its interval: "3.272 s ± 0.002"; what is known where it was not measured. */
export function momentWithMargin(estimate: Estimate): string {
  switch (estimate.kind) {
    case 'measured':
      return `${momentInWords(estimate.value)} ${momentMargin(estimate)}`
    case 'atLeast':
      return `after ${momentInWords(estimate.value)}`
    case 'withheld':
      return 'not measured'
  }
}

function momentMargin(estimate: Measured): string {
  return marginInWords(estimate, 3)
}

/** "−6.7°" */
export function degreesInWords(angleDeg: number): string {
  return `${fixed(angleDeg, 1)}°`
}

export function degreesFromRad(angleRad: number): number {
  return (angleRad * 180) / Math.PI
}
