import { Mesh } from '../shapes/mesh.ts'
import type { BoardSpec, Colour } from '../scenario.ts'
import { worldFromPlank, type BoardPlace } from '../simulation/board-place.ts'
import { frameAt, type Vec3 } from '../world/vector.ts'

const PARTS = 48
const BOTTOM: Colour = [0.09, 0.08, 0.07]

/** The plank at one instant: painted top with a rough surface, coloured sides, ends and underside. */
export function plankMesh(board: BoardSpec, at: BoardPlace): Mesh {
  const mesh = new Mesh({ sizeM: 0.02, strength: 0.1, stretch: 2 })
  const half = board.widthM / 2
  const edges = lengthwiseCuts(board)
  const p = (alongM: number, aboveM: number, z: number): Vec3 => worldFromPlank(board, at, alongM, aboveM, z)
  const c = Math.cos(at.angleRad)
  const s = Math.sin(at.angleRad)
  const up: Vec3 = [s, c, 0]
  const forward: Vec3 = [c, -s, 0]
  for (let i = 0; i + 1 < edges.length; i++) {
    const a = edges[i]!
    const b = edges[i + 1]!
    const colour = colourAt(board, (a + b) / 2)
    const side: Colour = [colour[0] * 0.92, colour[1] * 0.92, colour[2] * 0.92]
    const strip = (q: Vec3, r: Vec3, t: Vec3, u: Vec3, normal: Vec3, paint: Colour, heightM: number): void => {
      const k = mesh.corner(q, normal, paint, a, 0)
      mesh.corner(r, normal, paint, b, 0)
      mesh.corner(t, normal, paint, b, heightM)
      mesh.corner(u, normal, paint, a, heightM)
      mesh.triangle(k, k + 1, k + 2)
      mesh.triangle(k, k + 2, k + 3)
    }
    const t = -board.thicknessM
    strip(p(a, 0, -half), p(b, 0, -half), p(b, 0, half), p(a, 0, half), up, colour, board.widthM)
    strip(p(a, 0, half), p(b, 0, half), p(b, t, half), p(a, t, half), [0, 0, 1], side, board.thicknessM)
    strip(p(a, 0, -half), p(b, 0, -half), p(b, t, -half), p(a, t, -half), [0, 0, -1], side, board.thicknessM)
    strip(p(a, t, -half), p(b, t, -half), p(b, t, half), p(a, t, half), [-up[0], -up[1], 0], BOTTOM, board.widthM)
  }
  for (const end of [0, board.lengthM]) {
    const normal: Vec3 = end === 0 ? [-forward[0], -forward[1], 0] : forward
    mesh.face(
      p(end, 0, -half),
      p(end, 0, half),
      p(end, -board.thicknessM, half),
      p(end, -board.thicknessM, -half),
      board.zoneColour,
      normal,
    )
  }
  return mesh
}

/** Even parts, with cuts exactly where the colours change. */
function lengthwiseCuts(board: BoardSpec): number[] {
  const cuts = [0, board.contactM, board.lengthM - board.contactM, board.lengthM]
  return cuts
    .slice(0, -1)
    .flatMap((from, i) => {
      const to = cuts[i + 1]!
      const parts = Math.max(1, Math.round((PARTS * (to - from)) / board.lengthM))
      return Array.from({ length: parts }, (_, k) => from + ((to - from) * k) / parts)
    })
    .concat(board.lengthM)
}

function colourAt(board: BoardSpec, alongM: number): Colour {
  return alongM < board.contactM || alongM > board.lengthM - board.contactM ? board.zoneColour : board.middleColour
}

/** The stand: two leaning frames of square tube, feet, a cross bar and the axle with its bracket. */
export function standMesh(board: BoardSpec): Mesh {
  const mesh = new Mesh({ sizeM: 0.03, strength: 0.06, stretch: 1 })
  const axle = board.pivotHeightM - board.axisBelowTopM
  const half = board.widthM / 2
  const bar = (from: Vec3, to: Vec3, thickM: number): void => {
    const along: Vec3 = [to[0] - from[0], to[1] - from[1], to[2] - from[2]]
    const frame = frameAt(
      [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2, (from[2] + to[2]) / 2],
      along,
      Math.abs(along[2]) > 0.2 ? [0, 1, 0] : [0, 0.01, 1],
    )
    mesh.box(frame, Math.hypot(...along) / 2, thickM / 2, thickM / 2, board.baseColour)
  }
  for (const z of [-half - 0.03, half + 0.03]) {
    bar([-0.3, 0.02, z * 1.35], [-0.03, axle, z], 0.04)
    bar([0.3, 0.02, z * 1.35], [0.03, axle, z], 0.04)
    bar([-0.2, 0.2, z * 1.23], [0.2, 0.2, z * 1.23], 0.03)
    bar([-0.42, 0.02, z * 1.35], [0.42, 0.02, z * 1.35], 0.04)
  }
  bar([-0.3, 0.03, -half * 1.5], [-0.3, 0.03, half * 1.5], 0.04)
  bar([0.3, 0.03, -half * 1.5], [0.3, 0.03, half * 1.5], 0.04)
  bar([0, axle - 0.005, -half - 0.06], [0, axle - 0.005, half + 0.06], 0.03)
  return mesh
}
