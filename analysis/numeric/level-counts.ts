/** Groups to a unit: fine enough that a median within a group is as good as that of the values themselves. */
const GROUPS = 2

/**
 * Many small sets of 8-bit levels, one after another: quantiles by counting, which is faster than sorting.
 * Levels are grouped by halves; within a group they count as evenly spread.
 */
export class LevelCounts {
  readonly #counts = new Uint16Array(256 * GROUPS)
  #count = 0
  #least = 256 * GROUPS
  #most = -1

  /** How many levels have been added since the last `clear`. */
  get count(): number {
    return this.#count
  }

  /** Takes a level's group, from `groupOf`. */
  add(group: number): void {
    this.#counts[group]!++
    this.#count++
    if (group < this.#least) this.#least = group
    if (group > this.#most) this.#most = group
  }

  /** The level below which a share (0-1) of those added lies. At least one must have been added. */
  quantile(share: number): number {
    const wanted = share * this.#count
    let below = 0
    for (let group = this.#least; group <= this.#most; group++) {
      const here = this.#counts[group]!
      if (below + here >= wanted && here > 0) return (group + (wanted - below) / here) / GROUPS
      below += here
    }
    return this.#most / GROUPS
  }

  clear(): void {
    this.#counts.fill(0, this.#least, this.#most + 1)
    this.#count = 0
    this.#least = 256 * GROUPS
    this.#most = -1
  }
}

/**
 * The group of `LevelCounts` that a level belongs to.
 *
 * @param level 0-255; what is brighter counts as 255
 * @returns a whole number from 0 to 511
 * @example groupOf(100.6) // 201
 */
export function groupOf(level: number): number {
  return Math.min(256 * GROUPS - 1, Math.floor(level * GROUPS))
}
