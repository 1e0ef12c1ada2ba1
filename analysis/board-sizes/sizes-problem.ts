import { BOARD_LIMITS } from '../board/board-limits.ts'
import { CalibrationProblem } from '../calibration/calibration-problem.ts'
import type { PinholeSeesaw } from '../calibration/pinhole-seesaw.ts'
import type { CalibrationBasis } from '../calibration/seesaw-camera.ts'
import type { ImagePx } from '../geometry/points.ts'
import { leastSquares, type LeastSquaresFit, type LeastSquaresProblem } from '../numeric/least-squares.ts'

/** Boards of any kind, training boards too, before anything is seen: the pivot's height, 1 sd, m (an estimate). */
const HEIGHT_M = { middle: 0.61, sd: 0.15 } as const
/** A change of the height that moves points by about a pixel, m: the step of its derivative. */
const TYPICAL_HEIGHT_M = 0.005

/**
 * The marks of a picture with the pivot's height unknown and the zones' borders left out: what they say of both is then
 * the picture's word alone. Only the plank's length is believed; a picture shows nothing but proportions.
 *
 * Unknowns: those of a calibration, then the pivot's height, m.
 */
export class SizesProblem implements LeastSquaresProblem {
  readonly residualCount: number
  readonly typical: Float64Array
  /** Index of the pivot's height among the unknowns. */
  readonly heightAt: number
  readonly #basis: CalibrationBasis
  readonly #clicks: CalibrationProblem
  /** Indices of the residuals of the zones' borders. */
  readonly #borders: readonly number[]

  constructor(basis: CalibrationBasis) {
    // The search starts from a calibration, which wrong zones would lead astray.
    this.#basis = { ...basis, board: { ...basis.board, contactM: roughContactM(basis) } }
    this.#clicks = new CalibrationProblem(this.#basis)
    this.heightAt = this.#clicks.unknownCount
    this.residualCount = this.#clicks.residualCount + 1
    this.typical = Float64Array.of(...this.#clicks.typicalChanges(), TYPICAL_HEIGHT_M)
    this.#borders = this.#clicks.points.flatMap(({ name }, k) =>
      name === 'upContactEdge' || name === 'downContactEdge' ? [2 * k, 2 * k + 1] : [],
    )
  }

  residuals(unknowns: Float64Array, into: Float64Array): void {
    if (!this.isPossibleHeight(unknowns)) {
      into.fill(NaN)
      return
    }
    this.#clicksAt(unknowns).writeResiduals(unknowns, into)
    for (const k of this.#borders) into[k] = 0
    into[this.residualCount - 1] = (unknowns[this.heightAt]! - HEIGHT_M.middle) / HEIGHT_M.sd
  }

  /** Whether a board with this height can be entered at all. */
  isPossibleHeight(unknowns: ArrayLike<number>): boolean {
    const { min, max } = BOARD_LIMITS.pivotHeightM
    return unknowns[this.heightAt]! > min && unknowns[this.heightAt]! < max
  }

  /** The camera at the given unknowns. */
  camera(unknowns: ArrayLike<number>): PinholeSeesaw {
    return this.#clicksAt(unknowns).camera(unknowns)
  }

  /** The most probable unknowns. */
  solve(): LeastSquaresFit {
    const { parameters } = this.#clicks.solve()
    return leastSquares(this, Float64Array.of(...parameters, this.#basis.board.pivotHeightM))
  }

  #clicksAt(unknowns: ArrayLike<number>): CalibrationProblem {
    const board = { ...this.#basis.board, pivotHeightM: unknowns[this.heightAt]! }
    return new CalibrationProblem({ ...this.#basis, board })
  }
}

/** How long the zones look beside the plank, m, without regard to perspective. */
function roughContactM({ board, marks: { rest } }: CalibrationBasis): number {
  const apartPx = (a: ImagePx, b: ImagePx) => Math.hypot(b.xPx - a.xPx, b.yPx - a.yPx)
  const zonesPx = apartPx(rest.entryEnd, rest.upContactEdge) + apartPx(rest.downContactEdge, rest.exitEnd)
  return (board.lengthM * zonesPx) / apartPx(rest.entryEnd, rest.exitEnd) / 2
}
