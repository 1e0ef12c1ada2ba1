import type { Scenario } from '../scenario.ts'
import { Stage } from '../scene/stage.ts'
import { instantAt, type Recording } from '../simulation/recording.ts'
import { centreOf } from '../simulation/trunk.ts'
import { Random } from '../random.ts'
import { Camera } from './camera.ts'
import type { Mesh } from '../shapes/mesh.ts'
import { Raster, type LitMesh } from './raster.ts'

/** Which pixels show the dog, exactly: what is before it (plank, people) is left out. */
export class DogMasks {
  private readonly recording: Recording
  private readonly stage: Stage
  private readonly camera: Camera
  private readonly raster: Raster

  constructor(scenario: Scenario, recording: Recording) {
    this.recording = recording
    this.stage = new Stage(scenario)
    this.camera = new Camera(scenario.camera, new Random(scenario.seed).fork('camera'))
    this.raster = new Raster(scenario.camera.widthPx, scenario.camera.heightPx)
  }

  /** One byte a pixel, row by row: 1 where the dog is seen; null when there is no dog at that time. */
  at(timeS: number): Uint8Array | null {
    const instant = instantAt(this.recording, timeS)
    if (instant.dog === null) return null
    const subject = instantAt(this.recording, timeS - 0.15).dog
    const pose = this.camera.pose(timeS, subject ? centreOf(subject.trunk)[0] : 0)
    const { raster } = this
    raster.colour.fill(0)
    raster.inverseDepth.fill(0)
    const [dog, ...others] = this.stage.actors(instant, timeS)
    const draw = (mesh: Mesh, light: number) => raster.draw(inOneTone(mesh, light), this.camera, pose, 0, 0)
    for (const mesh of [this.stage.plank(instant, timeS), ...others]) draw(mesh, 0)
    if (dog !== undefined) draw(dog, 1)
    return Uint8Array.from({ length: raster.inverseDepth.length }, (_, i) => (raster.colour[3 * i]! > 0 ? 1 : 0))
  }
}

function inOneTone(mesh: Mesh, light: number): LitMesh {
  return {
    mesh,
    colours: new Float32Array(mesh.colours.length).fill(light),
    positions: Float32Array.from(mesh.positions),
    maps: Float32Array.from(mesh.maps),
    triangles: Uint32Array.from(mesh.triangles),
  }
}
