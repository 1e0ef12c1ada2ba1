import { noiseTile, Random } from '../random.ts'
import type { Coat, Colour } from '../scenario.ts'

const SIZE = 64
const patches = noiseTile(new Random(2024), SIZE, 4, 3, 0.5)

function patch(u: number, v: number): number {
  const x = ((Math.floor(u * SIZE) % SIZE) + SIZE) % SIZE
  const y = ((Math.floor(v * SIZE) % SIZE) + SIZE) % SIZE
  return patches[y * SIZE + x]!
}

export type Part = 'trunk' | 'neck' | 'head' | 'muzzle' | 'ear' | 'tail' | 'leg'

/**
 * Colour of the hair at a place: `along` from 0 (rump, root or hip) to 1 (chest, tip or paw), `up` from -1
 * (belly side) to 1 (back), `side` from -1 to 1.
 */
export function coatColour(coat: Coat, part: Part, along: number, up: number, side: number): Colour {
  const spot = patch(along * 0.9 + 0.31 * side, 0.23 * up + 0.4 * side + (part === 'trunk' ? 0 : 0.37))
  const belly = up < -0.55
  switch (coat.pattern) {
    case 'plain':
      return part === 'leg' && along > 1 - coat.socks ? coat.white : belly ? lighter(coat.main, 1.25) : coat.main
    case 'bordered':
      if (part === 'neck') return along > 0.25 && along < 0.72 ? coat.white : coat.main
      if (part === 'muzzle') return Math.abs(side) < 0.55 || along > 0.45 ? coat.white : coat.main
      if (part === 'head') return Math.abs(side) < 0.22 && up > 0 ? coat.white : coat.main
      if (part === 'tail') return along > 0.8 ? coat.white : coat.main
      if (part === 'leg')
        return along > 1 - coat.socks ? coat.white : along > 0.9 - coat.socks ? coat.second : coat.main
      return belly || (along > 0.9 && up < 0.3) ? coat.white : coat.main
    case 'saddle':
      if (part === 'trunk') return up > 0.05 + 0.25 * spot ? coat.main : coat.second
      if (part === 'tail') return up > 0 ? coat.main : coat.second
      if (part === 'neck') return up > 0.35 ? coat.main : coat.second
      return part === 'muzzle' && along > 0.4 ? coat.main : coat.second
    case 'patched':
      if (part === 'leg') return along > 1 - coat.socks || spot < 0.5 ? coat.white : coat.main
      return spot > 0.15 ? coat.main : coat.white
    case 'merle':
      if (part === 'leg') return along > 1 - coat.socks ? coat.white : coat.second
      if (part === 'muzzle') return Math.abs(side) < 0.4 ? coat.white : coat.second
      return belly ? coat.white : spot > 0.35 ? coat.second : lighter(coat.main, 1 + 0.2 * spot)
    case 'masked':
      if (part === 'muzzle' || part === 'ear') return coat.second
      if (part === 'leg') return along > 1 - coat.socks ? coat.white : coat.main
      return belly ? lighter(coat.main, 1.2) : coat.main
  }
}

function lighter(colour: Colour, by: number): Colour {
  return [Math.min(0.9, colour[0] * by), Math.min(0.9, colour[1] * by), Math.min(0.9, colour[2] * by)]
}
