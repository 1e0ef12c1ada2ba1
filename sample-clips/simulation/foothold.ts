import type { BoardSpec } from '../scenario.ts'
import type { Vec3 } from '../world/vector.ts'
import { groundedAngleRad, worldFromPlank, type BoardPlace } from './board-place.ts'

/** Where a paw is planted: fixed to the plank, or fixed to the ground. */
export type Foothold =
  | { readonly on: 'plank'; readonly alongM: number; readonly z: number }
  | { readonly on: 'ground'; readonly xM: number; readonly z: number }

export function worldFromFoothold(board: BoardSpec, at: BoardPlace, foothold: Foothold): Vec3 {
  return foothold.on === 'plank'
    ? worldFromPlank(board, at, foothold.alongM, 0, foothold.z)
    : [foothold.xM, 0, foothold.z]
}

/** What a dog goes along: one running number, and the surface that lies under it. */
export interface Way {
  foothold(alongM: number, z: number): Foothold
  alongOf(foothold: Foothold): number
  /** The surface under a place, averaged over a little length so that its steps and kinks are rounded; z is 0. */
  surface(at: BoardPlace, alongM: number, roundM: number): Vec3
}

/** Over the ground to the entry end, up and along the plank (there the number is the plank's own), over the ground beyond. */
export class SeesawWay implements Way {
  readonly board: BoardSpec
  readonly entryX: number
  readonly exitX: number

  constructor(board: BoardSpec) {
    this.board = board
    const grounded = groundedAngleRad(board)
    this.entryX = worldFromPlank(board, { angleRad: -grounded, bendM: 0 }, 0, 0, 0)[0]
    this.exitX = worldFromPlank(board, { angleRad: grounded, bendM: 0 }, board.lengthM, 0, 0)[0]
  }

  groundX(alongM: number): number {
    return alongM < this.board.lengthM / 2 ? this.entryX + alongM : this.exitX + alongM - this.board.lengthM
  }

  foothold(alongM: number, z: number): Foothold {
    if (alongM < 0 || alongM > this.board.lengthM) return { on: 'ground', xM: this.groundX(alongM), z }
    const limit = this.board.widthM / 2 - 0.025
    return { on: 'plank', alongM, z: Math.max(-limit, Math.min(limit, z)) }
  }

  alongOf(foothold: Foothold): number {
    if (foothold.on === 'plank') return foothold.alongM
    return foothold.xM < 0 ? foothold.xM - this.entryX : foothold.xM - this.exitX + this.board.lengthM
  }

  surface(at: BoardPlace, alongM: number, roundM: number): Vec3 {
    let x = 0
    let y = 0
    ;[1, 2, 3, 2, 1].forEach((weight, i) => {
      const p = worldFromFoothold(this.board, at, this.foothold(alongM + ((i - 2) / 2) * roundM, 0))
      x += (weight * p[0]) / 9
      y += (weight * p[1]) / 9
    })
    return [x, y, 0]
  }
}

/** Flat ground: x is the running number plus a constant. */
export class FlatWay implements Way {
  readonly offsetM: number

  constructor(offsetM: number) {
    this.offsetM = offsetM
  }

  foothold(alongM: number, z: number): Foothold {
    return { on: 'ground', xM: alongM + this.offsetM, z }
  }

  alongOf(foothold: Foothold): number {
    return (foothold.on === 'ground' ? foothold.xM : foothold.alongM) - this.offsetM
  }

  surface(_at: BoardPlace, alongM: number): Vec3 {
    return [alongM + this.offsetM, 0, 0]
  }
}
