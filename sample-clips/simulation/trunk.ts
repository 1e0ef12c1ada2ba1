import { mix, type Vec3 } from '../world/vector.ts'
import { CENTRE_SHARE } from './dog-frame.ts'

/** Where a dog's trunk is: shoulder and hip points on its middle plane, world metres. */
export interface Trunk {
  readonly shoulder: Vec3
  readonly hip: Vec3
}

/** Centre of mass of the dog. */
export const centreOf = (trunk: Trunk): Vec3 => mix(trunk.shoulder, trunk.hip, CENTRE_SHARE)
