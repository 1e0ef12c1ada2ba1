import { approachGrids } from '../../../analysis/approach/approach-grids.ts'
import type { ApproachLook } from '../../../analysis/approach/approach-watch.ts'
import { PinholeSeesaw } from '../../../analysis/calibration/pinhole-seesaw.ts'
import { COLOUR_COUNT } from '../../../analysis/silhouette/colour-code.ts'
import type { DogLikeness } from '../../../analysis/silhouette/dog-likeness.ts'
import { AHEAD_M, HEIGHTS_M, PLACE_COLUMNS } from '../../../analysis/silhouette/placed-look.ts'
import { BOARD, frontalPose } from '../calibration/simulated-seesaw.ts'

/** A camera 1.6 m over the ground, 6 m from the plank, that looks at the pivot. */
export const camera = new PinholeSeesaw(frontalPose({ heightM: 1.6, distanceM: 6, pitchRad: -0.16 }), BOARD, 1)
export const grids = approachGrids(camera)

/** A dog whose trunk reaches from 0.4 m behind its centre to 0.45 m ahead, 0.25 to 0.5 m high, over two pairs of legs. */
function isDog(aheadM: number, heightM: number): boolean {
  const isTrunk = aheadM > -0.4 && aheadM < 0.45 && heightM > 0.25 && heightM < 0.5
  const isLeg = heightM > 0 && heightM <= 0.25 && (Math.abs(aheadM + 0.33) < 0.04 || Math.abs(aheadM - 0.3) < 0.04)
  return isTrunk || isLeg
}

export const likeness: DogLikeness = {
  shape: Float32Array.from({ length: PLACE_COLUMNS * HEIGHTS_M.length }, (_, i) =>
    isDog(AHEAD_M[i % PLACE_COLUMNS]!, HEIGHTS_M[Math.floor(i / PLACE_COLUMNS)]!) ? 0.95 : 0,
  ),
  colourOdds: new Float32Array(COLOUR_COUNT).fill(1),
}

/** What stands on the ground in a look: from where to where ahead, and how far aside its near border is, m. */
export interface Foot {
  readonly aheadM: number
  readonly asideM: number
  readonly wideM: number
}

const STRANGE = 120
const CALM = 4

/** A look in which the dog's centre is somewhere (null: nowhere), and feet stand on the ground. */
export function look(ptsS: number, bodyM: number | null, feet: readonly Foot[] = []): ApproachLook {
  const { upright, ground } = grids
  const cells = (
    { aheadM, rowM }: { readonly aheadM: Float64Array; readonly rowM: Float64Array },
    isStrange: (ahead: number, row: number) => boolean,
  ) =>
    Uint8Array.from({ length: aheadM.length * rowM.length }, (_, i) =>
      isStrange(aheadM[i % aheadM.length]!, rowM[Math.floor(i / aheadM.length)]!) ? STRANGE : CALM,
    )
  return {
    ptsS,
    upright: cells(upright, (ahead, height) => bodyM !== null && isDog(ahead - bodyM, height)),
    colours: new Uint16Array(upright.aheadM.length * upright.rowM.length),
    // A leg hides the ground from its foot on, away from the camera.
    ground: cells(ground, (ahead, aside) =>
      feet.some((foot) => Math.abs(ahead - foot.aheadM) < foot.wideM / 2 && aside < foot.asideM),
    ),
  }
}
