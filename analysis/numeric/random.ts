/** A seeded stream of random numbers: the same seed gives the same numbers on every machine. */
export interface Random {
  /** Uniform in [0, 1). */
  uniform(): number
  /** Standard normal: mean 0, sd 1. */
  normal(): number
}

/**
 * A seeded random stream: a 32-bit counter stepped by the golden ratio and mixed by two multiply-xorshift rounds
 * (the finaliser of MurmurHash3), normal numbers by Box and Muller's transform.
 *
 * Good enough for simulation and for drawing from posteriors; not for secrets.
 *
 * @param seed any integer
 */
export function seededRandom(seed: number): Random {
  let counter = seed | 0
  let spare: number | undefined
  function word(): number {
    counter = (counter + 0x9e3779b9) | 0
    let mixed = counter
    mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b)
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35)
    return (mixed ^ (mixed >>> 16)) >>> 0
  }
  function uniform(): number {
    return (word() * 0x200000 + (word() >>> 11)) / 2 ** 53
  }
  function normal(): number {
    if (spare !== undefined) {
      const kept = spare
      spare = undefined
      return kept
    }
    const radius = Math.sqrt(-2 * Math.log(1 - uniform()))
    const turn = 2 * Math.PI * uniform()
    spare = radius * Math.sin(turn)
    return radius * Math.cos(turn)
  }
  return { uniform, normal }
}
