import type { Colour, FieldSpec } from '../scenario.ts'
import { dot, type Vec3 } from '../world/vector.ts'

/** Sun and sky over the field. */
export class Light {
  /** Unit direction towards the sun. */
  readonly sun: Vec3
  /** Share of level ground's light that comes from the sun; a full shadow takes it away. */
  readonly sunShare: number
  private readonly sunColour: Colour
  private readonly skyColour: Colour
  private readonly bounceColour: Colour

  constructor(field: FieldSpec, cameraSide: 1 | -1) {
    const azimuth = (field.sunAzimuthDeg * Math.PI) / 180
    const height = (field.sunHeightDeg * Math.PI) / 180
    this.sun = [
      Math.cos(height) * Math.sin(azimuth),
      Math.sin(height),
      cameraSide * Math.cos(height) * Math.cos(azimuth),
    ]
    this.sunShare = field.sunShare
    const warm = field.sky === 'evening' ? 1 : 0.35
    const sunPower = (1.15 * field.sunShare) / Math.max(0.3, this.sun[1])
    const skyPower = 1.15 * (1 - field.sunShare)
    this.sunColour = [sunPower * (1 + 0.1 * warm), sunPower, sunPower * (1 - 0.22 * warm)]
    this.skyColour =
      field.sky === 'cloudy'
        ? [skyPower * 0.98, skyPower, skyPower * 1.03]
        : [skyPower * 0.9, skyPower, skyPower * 1.14]
    this.bounceColour =
      field.ground === 'grass' ? [0.16, 0.19, 0.1] : field.ground === 'sand' ? [0.25, 0.22, 0.17] : [0.17, 0.17, 0.18]
  }

  /** Light on a surface with this outward normal; thin leaves also glow a little from behind. */
  shine(normal: Vec3, thin: boolean): Colour {
    const facing = dot(normal, this.sun)
    const sun = thin ? 0.25 + 0.5 * Math.abs(facing) : Math.max(0, facing)
    const up = thin ? 0.75 : 0.5 + 0.5 * normal[1]
    return [0, 1, 2].map(
      (k) => this.sunColour[k]! * sun + this.skyColour[k]! * (0.25 + 0.75 * up) + this.bounceColour[k]! * (1 - up),
    ) as unknown as Colour
  }
}
