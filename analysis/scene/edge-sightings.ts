import type { BoardSight, EdgeFit } from './follow-board.ts'
import { plankOutline } from './plank-outline.ts'
import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { FrameSightings, Sighting } from '../calibration/sightings.ts'

/** Places along the plank at which an edge's line is handed over, share of the length. */
const PLACES = [0.08, 0.3, 0.7, 0.92]

/**
 * What the board follower saw of the plank's two long edges in one frame, as sightings for refining the calibration.
 *
 * @param camera the calibration that the follower used
 * @param sight the board as found, angle in rad
 * @param board whether this frame shows the board as in one of the marked frames
 * @returns sightings in reference image px; none for an edge that was not seen well
 */
export function edgeSightings(camera: SeesawCamera, sight: BoardSight, board: FrameSightings['board']): FrameSightings {
  const outline = plankOutline(camera, sight.angleRad)
  const top = sight.edges?.top ?? null
  const bottom = sight.edges?.bottom ?? null
  const { thicknessM } = camera
  return {
    board,
    roughAngleRad: sight.angleRad,
    sightings: [
      ...edgePoints(camera, sight, top, 'upper', (share) => Math.max(0, at(outline.farTopM, share))),
      ...edgePoints(camera, sight, bottom, 'lower', (share) => Math.min(-thicknessM, at(outline.bottomM, share))),
    ],
  }
}

function at([entry, exit]: readonly [number, number], share: number): number {
  return entry + share * (exit - entry)
}

function edgePoints(
  camera: SeesawCamera,
  sight: BoardSight,
  edge: EdgeFit | null,
  side: 'upper' | 'lower',
  outlineM: (share: number) => number,
): Sighting[] {
  if (edge === null) return []
  const angle = sight.angleRad
  return PLACES.map((place): Sighting => {
    const alongM = place * camera.lengthM
    const lever = alongM - camera.lengthM / 2
    const expectedM = outlineM(place)
    // Seen from above the far edge bounds the top face, seen from below the underside; else the near edge does.
    const isFar = side === 'upper' ? expectedM > 0.001 : expectedM < -camera.thicknessM - 0.001
    const aboveM = expectedM + edge.offsetM + edge.slopeRad * lever
    const image = camera.imageFromPlank({ alongM, aboveM, acrossM: 0 }, angle)
    const beside = camera.imageFromPlank({ alongM: alongM + 0.01, aboveM, acrossM: 0 }, angle)
    const over = camera.imageFromPlank({ alongM, aboveM: aboveM + 0.01, acrossM: 0 }, angle)
    const dx = beside.xPx - image.xPx
    const dy = beside.yPx - image.yPx
    const length = Math.hypot(dx, dy)
    const pxPerM = Math.hypot(over.xPx - image.xPx, over.yPx - image.yPx) / 0.01
    return {
      family: `${side} edge${isFar ? ', far' : ''}`,
      alongM,
      edge: side,
      acrossM: isFar ? camera.widthM : 0,
      image,
      normal: { x: -dy / length, y: dx / length },
      sdPx: Math.max(0.15, pxPerM * Math.hypot(edge.offsetSdM, edge.slopeSdRad * lever)),
    }
  })
}
