import { seededRandom } from '../../analysis/numeric/random.ts'

/** How a copy of a clip is damaged. */
export const DAMAGES = ['one-flip', 'flips', 'many-flips', 'burst', 'zeros', 'cut-out', 'cut-short'] as const
export type Damage = (typeof DAMAGES)[number]

/** A damaged copy of a clip, the same each time for the same clip, damage and seed. */
export interface DamagedCopy {
  readonly damage: Damage
  readonly seed: number
  readonly bytes: Buffer
  /** First byte that differs from the sound clip. */
  readonly fromByte: number
}

/** Which bytes may be damaged: all of the file, or only the coded pictures and sound of an MP4 (its `mdat`). */
export type Reach = 'file' | 'pictures'

/**
 * A copy of `clip` with one kind of damage: single bits flipped (1, 5 or 40 of them), a run of random bytes, a run of
 * zeros as a bad sector leaves it, a range left out, or the end missing.
 */
export function damagedCopy(clip: Buffer, damage: Damage, seed: number, reach: Reach = 'file'): DamagedCopy {
  const random = seededRandom(1 + seed * DAMAGES.length + DAMAGES.indexOf(damage))
  const [from, to] = reach === 'file' ? [0, clip.length] : mediaData(clip)
  const below = (count: number): number => Math.floor(random.uniform() * count)
  const place = (lengthBytes: number): number => from + below(Math.max(1, to - from - lengthBytes))
  const bytes = Buffer.from(clip)
  const runBytes = 16 + below(Math.ceil((to - from) / 100))
  switch (damage) {
    case 'one-flip':
    case 'flips':
    case 'many-flips': {
      const places = Array.from({ length: FLIPS[damage] }, () => place(1))
      for (const at of places) bytes[at]! ^= 1 << below(8)
      return { damage, seed, bytes, fromByte: Math.min(...places) }
    }
    case 'burst':
    case 'zeros': {
      const at = place(runBytes)
      for (let i = at; i < at + runBytes; i++) bytes[i] = damage === 'zeros' ? 0 : below(256)
      return { damage, seed, bytes, fromByte: at }
    }
    case 'cut-out': {
      const at = place(runBytes)
      return {
        damage,
        seed,
        bytes: Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + runBytes)]),
        fromByte: at,
      }
    }
    case 'cut-short': {
      const at = from + Math.floor((to - from) * (0.3 + 0.65 * random.uniform()))
      return { damage, seed, bytes: bytes.subarray(0, at), fromByte: at }
    }
  }
}

/** `count` copies, all kinds of damage in turn. */
export function damagedCopies(clip: Buffer, count: number, reach: Reach = 'file'): DamagedCopy[] {
  return Array.from({ length: count }, (_, k) => damagedCopy(clip, DAMAGES[k % DAMAGES.length]!, k, reach))
}

const FLIPS = { 'one-flip': 1, flips: 5, 'many-flips': 40 } as const

/** The bytes of an MP4's `mdat` box (ISO/IEC 14496-12): from, to. */
function mediaData(clip: Buffer): [number, number] {
  for (let at = 0; at + 8 <= clip.length;) {
    const size = clip.readUInt32BE(at)
    if (clip.toString('latin1', at + 4, at + 8) === 'mdat') return [at + 8, size < 8 ? clip.length : at + size]
    if (size < 8) break
    at += size
  }
  throw new Error('The clip has no mdat box of the short form.')
}
