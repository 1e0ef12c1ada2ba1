import { type Markup, markup } from './markup.ts'
import type { VerdictCard } from '../../analysis/words/verdict-cards.ts'

/** A verdict as a shape that differs without colour: full disc with a tick, ring with a bar, broken ring. */
export function verdictShape(shape: VerdictCard['shape']): Markup {
  return markup`<svg class="shape ${shape}" viewBox="0 0 20 20" aria-hidden="true">${parts(shape)}</svg>`
}

function parts(shape: VerdictCard['shape']): Markup {
  switch (shape) {
    case 'sure':
      return markup`<circle class="full" cx="10" cy="10" r="9"/><path class="cut" d="M5.5,10.5 L9,13.8 L14.5,7"/>`
    case 'against':
      return markup`<circle class="ring" cx="10" cy="10" r="8"/><path class="ring" d="M5.5,10 H14.5"/>`
    case 'open':
      return markup`<circle class="ring broken" cx="10" cy="10" r="8"/>`
  }
}
