import type { Board } from '../board/board.ts'
import type { GroundedMarks, RestMarks } from '../board/marks.ts'
import { likelyBuild } from '../calibration/pose-priors.ts'
import type { PictureSize } from '../calibration/seesaw-camera.ts'
import { mapImage } from '../camera/camera-motion.ts'
import type { Frame, View } from '../clip/frame.ts'
import type { ImagePx } from '../geometry/points.ts'
import { findLanded } from './landed-bar.ts'
import { findCrossingBars } from './crossing-bars.ts'
import { type Line, type PlankOutlineSeen, seeOutline } from './plank-edges.ts'
import { changed, difference, differenceBeyondPixel, medianPicture, type ScenePicture } from './scene-picture.ts'
import { type SteadyPicture, steadyPictures } from './steady-pictures.ts'

/** A plank that was found by its own motion, full-resolution image px. */
export interface FoundPlank {
  readonly rest: RestMarks
  readonly grounded: GroundedMarks
  /** Frames in which the plank seems to lie landed, display order. */
  readonly landedFrames: readonly number[]
  /** From image px of the resting frame to image px of others, by their index, where that is known. */
  readonly motions?: ReadonlyMap<number, Float64Array>
}

/**
 * Finds the plank in a clip, also from a hand or by a camera that pans: where it lay at first and where it lies later
 * are two thin bars that cross in their middle. Edges and ends are where the pictures begin to differ; the rest follows
 * from the board's lengths. A few px off.
 *
 * @param before frames of the resting board, colour, one view; best three or more, so that what moves goes
 * @param later frames from then on, the same view, in display order
 * @param board lengths in m; its zones and build
 * @param size of the displayed picture, px
 * @returns null where no tipping plank is seen
 */
export function findPlank(
  before: readonly Frame[],
  later: readonly Frame[],
  board: Board,
  size: PictureSize,
): FoundPlank | null {
  const { pictures: all, hasMoved } = steadyPictures([...before, ...later], size)
  const restingIndices = new Set(before.map(({ index }) => index))
  const [restingOnes, laterOnes] = [true, false].map((is) =>
    all.filter(({ frame }) => restingIndices.has(frame.index) === is),
  ) as [SteadyPicture[], SteadyPicture[]]
  if (laterOnes.length === 0) return null
  const resting = medianPicture(restingOnes.map(({ picture }) => picture))
  const pictures = laterOnes.map(({ picture }) => picture)
  const changes = (picture: ScenePicture) =>
    changed(hasMoved ? differenceBeyondPixel(picture, resting) : difference(picture, resting))
  const bars = findCrossingBars(resting, pictures, changes)
  if (bars === null) return null
  const restOutline = seeOutline(difference(pictures[bars.landedAt]!, resting), resting, bars.rest)
  const landed = findLanded(resting, pictures, bars, changes)
  if (restOutline === null || landed === null) return null
  const restEdge = nearTopEdge(restOutline, board)
  const landedEdge = nearTopEdge(landed.outline, board)
  const columns = columnsOf(restEdge, landedEdge, board)
  const { view } = before[0]!
  const exitRight = restEdge.line.slope < 0
  const pointAt = ({ line }: Edge, column: number) => imageOf(view, column, line.atZero + line.slope * column)
  const entryOf = (edge: Edge) => (exitRight ? edge.fromColumn : edge.toColumn)
  const exitOf = (edge: Edge) => (exitRight ? edge.toColumn : edge.fromColumn)
  const shown = laterOnes[landed.at]!
  return {
    rest: {
      frame: before[0]!.index,
      entryEnd: pointAt(restEdge, entryOf(restEdge)),
      exitEnd: pointAt(restEdge, exitOf(restEdge)),
      pivot: pointAt(restEdge, columns.pivot),
      upContactEdge: pointAt(restEdge, columns.up),
      downContactEdge: pointAt(restEdge, columns.down),
    },
    grounded: {
      frame: shown.frame.index,
      entryEnd: mapImage(shown.frameFromReference, pointAt(landedEdge, entryOf(landedEdge))),
      exitEnd: mapImage(shown.frameFromReference, pointAt(landedEdge, exitOf(landedEdge))),
    },
    landedFrames: landed.lyingAt.map((at) => laterOnes[at]!.frame.index),
    motions: new Map(laterOnes.map(({ frame, frameFromReference }) => [frame.index, frameFromReference])),
  }
}

/** The long edge that is marked, between two columns. */
interface Edge {
  readonly line: Line
  readonly fromColumn: number
  readonly toColumn: number
}

/** The near face's lower edge is the outline's; the marked edge lies the plank's thickness above it. */
function nearTopEdge({ lower, fromColumn, toColumn }: PlankOutlineSeen, board: Board): Edge {
  const thickness = likelyBuild(board).thicknessM / board.lengthM
  const rows = thickness * (toColumn - fromColumn) * (1 + lower.slope ** 2)
  return { line: { slope: lower.slope, atZero: lower.atZero - rows }, fromColumn, toColumn }
}

/** Both edges cross above the axis; the middle of the plank lies a little towards the entry from there. */
function pivotOn(rest: Edge, landed: Edge, board: Board): number {
  const crossing = (landed.line.atZero - rest.line.atZero) / (rest.line.slope - landed.line.slope)
  const columnsPerM = (rest.toColumn - rest.fromColumn) / board.lengthM
  // Along the plank it is depth times tan of its slope; the plank's lower end is the entry.
  return crossing + likelyBuild(board).axisBelowTopM * rest.line.slope * columnsPerM
}

/** Columns of pivot and zone borders on the resting plank's edge, by where it turns and by the board's lengths. */
function columnsOf(rest: Edge, landed: Edge, board: Board) {
  const exitRight = rest.line.slope < 0
  const entry = exitRight ? rest.fromColumn : rest.toColumn
  const exit = exitRight ? rest.toColumn : rest.fromColumn
  const pivot = pivotOn(rest, landed, board)
  // Perspective keeps the ends, the order and cross ratios: one number, the bend, says where all else on the line lies.
  const bend = (pivot - entry) / (exit - pivot)
  const columnAt = (along: number) => entry + ((exit - entry) * (bend * along)) / (1 - along + bend * along)
  const zone = board.contactM / board.lengthM
  return { pivot, up: columnAt(zone), down: columnAt(1 - zone) }
}

function imageOf(view: View, column: number, row: number): ImagePx {
  return { xPx: view.originXPx + (column + 0.5) / view.scale, yPx: view.originYPx + (row + 0.5) / view.scale }
}
