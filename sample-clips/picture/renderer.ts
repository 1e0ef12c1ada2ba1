import { Random } from '../random.ts'
import { Ground } from '../scene/ground.ts'
import { Sky } from '../scene/sky.ts'
import { plankFlat, Stage, type DrawnDog } from '../scene/stage.ts'
import type { Scenario } from '../scenario.ts'
import { instantAt, type Instant, type Recording } from '../simulation/recording.ts'
import { centreOf } from '../simulation/trunk.ts'
import { Camera, type Pose } from './camera.ts'
import { Light } from '../shapes/light.ts'
import { lightMesh, Raster, type Box, type LitMesh } from './raster.ts'
import { groundFlat, ShadowMap } from './shadow-map.ts'
import { TileMask } from './tile-mask.ts'

/**
 * Samples a pixel, each at its own place in the pixel and its own moment of the exposure; fewer when the whole picture
 * is drawn anew because the camera moves. `order` keeps place in the pixel and moment from running together.
 */
const STEADY: Sampling = { count: 8, order: [3, 6, 0, 5, 1, 7, 2, 4] }
const MOVING: Sampling = { count: 4, order: [1, 3, 0, 2] }

interface Sampling {
  readonly count: number
  readonly order: readonly number[]
}

/** Rows of a rolling shutter that share one moment. */
const BAND_ROWS = 32
/** How far moving things may get from where they are in the middle of a frame while its rows are exposed. */
const REACH_ROWS = 60

const SKY = 0
const THING = 1
const GROUND = 2

/** The standing scene from one camera place: colours, depths and what each pixel shows, without the moving shadows. */
interface Plate {
  readonly raster: Raster
  readonly kind: Uint8Array
  readonly groundX: Float32Array
  readonly groundZ: Float32Array
}

/** Draws frames of linear light: full scene, soft shadows, motion blur over the exposure. */
export class Renderer {
  readonly camera: Camera
  readonly stage: Stage
  private readonly scenario: Scenario
  private readonly recording: Recording
  private readonly light: Light
  private readonly ground: Ground
  private readonly sky: Sky
  private readonly sampling: Sampling
  private readonly rays: { readonly x: Float32Array; readonly y: Float32Array }
  private readonly standing: readonly LitMesh[]
  private readonly standingShadow: ShadowMap
  private readonly movingShadow = new ShadowMap(-5, -4, 10, 8, 0.02)
  private readonly plankShadow: ShadowMap
  private readonly work: Plate
  private readonly plates: Plate[] = []
  private readonly stillSum: Float32Array
  private readonly skyShare: Float32Array
  private readonly skyNow: Float32Array

  /** @param drawnDog another body than the scenario's own dog */
  constructor(scenario: Scenario, recording: Recording, drawnDog?: DrawnDog) {
    this.scenario = scenario
    this.recording = recording
    const random = new Random(scenario.seed)
    this.camera = new Camera(scenario.camera, random.fork('camera'))
    this.sampling = this.camera.moves ? MOVING : STEADY
    this.light = new Light(scenario.field, scenario.camera.side)
    this.ground = new Ground(scenario.field, this.light, random.fork('ground'))
    this.sky = new Sky(scenario.field, random.fork('sky'))
    this.stage = new Stage(scenario, drawnDog)
    this.rays = this.camera.rays()
    this.standing = this.stage.standing.map((mesh) => lightMesh(mesh, this.light))
    this.standingShadow = new ShadowMap(-16, -16, 32, 32, 0.04)
    for (const mesh of this.stage.standing)
      this.standingShadow.cast(mesh.positions, mesh.triangles, groundFlat(this.light.sun), mesh.thin ? 0.5 : 1)
    this.standingShadow.soften(1, 2)
    this.plankShadow = new ShadowMap(0, 0, scenario.board.lengthM, scenario.board.widthM, 0.012)
    const pixels = scenario.camera.widthPx * scenario.camera.heightPx
    this.work = this.newPlate()
    this.stillSum = new Float32Array(3 * pixels)
    this.skyShare = new Float32Array(pixels)
    this.skyNow = new Float32Array(3 * pixels)
    if (!this.camera.moves) this.preparePlates()
  }

  private newPlate(): Plate {
    const { widthPx: w, heightPx: h } = this.scenario.camera
    return {
      raster: new Raster(w, h),
      kind: new Uint8Array(w * h),
      groundX: new Float32Array(w * h),
      groundZ: new Float32Array(w * h),
    }
  }

  /** Where the camera is at a time. */
  pose(timeS: number): Pose {
    const dog = instantAt(this.recording, timeS - 0.15).dog
    return this.camera.pose(timeS, dog ? centreOf(dog.trunk)[0] : 0)
  }

  /** Linear light of the frame whose exposure is centred on a time, three values a pixel. */
  frame(timeS: number, into: Float32Array): void {
    const { heightPx, rollingShutterS } = this.scenario.camera
    this.castShadows(instantAt(this.recording, timeS), timeS)
    if (rollingShutterS === 0) return this.band(timeS, 0, heightPx, into, true)
    const pose = this.pose(timeS)
    const boxes = this.movingMeshes(instantAt(this.recording, timeS), timeS).flatMap(
      (mesh) => this.work.raster.extent(mesh, this.camera, pose) ?? [],
    )
    const top = Math.min(...boxes.map((box) => box.top)) - REACH_ROWS
    const bottom = Math.max(...boxes.map((box) => box.bottom)) + REACH_ROWS
    for (let from = 0; from < heightPx; from += BAND_ROWS) {
      const to = Math.min(heightPx, from + BAND_ROWS)
      this.band(timeS + ((from + to) / 2 / heightPx - 0.5) * rollingShutterS, from, to, into, from < bottom && to > top)
    }
  }

  private band(timeS: number, rowFrom: number, rowTo: number, into: Float32Array, showsMoving: boolean): void {
    const { exposureS } = this.scenario.camera
    const tiles = new TileMask(this.scenario.camera.widthPx, this.scenario.camera.heightPx, rowFrom, rowTo)
    const { count, order } = this.sampling
    const moments = order.map((k) => {
      const momentS = timeS + ((k + 0.5) / count - 0.5) * exposureS
      const instant = instantAt(this.recording, momentS)
      return { momentS, meshes: showsMoving ? this.movingMeshes(instant, momentS) : [] }
    })
    if (this.camera.moves) tiles.markAll()
    else {
      const still = this.pose(timeS)
      for (const { meshes } of moments)
        for (const mesh of meshes) tiles.markBox(this.work.raster.extent(mesh, this.camera, still))
      this.markShadows(tiles, still)
      this.paintSkyNow(timeS, rowFrom, rowTo)
      this.fillStill(rowFrom, rowTo, into)
    }
    tiles.forEachRun((start, end) => into.fill(0, 3 * start, 3 * end))
    moments.forEach(({ momentS, meshes }, sample) => {
      const pose = this.pose(momentS)
      const [jitterX, jitterY] = jitter(sample, count)
      if (this.camera.moves) this.paintPlate(this.work, pose, momentS, jitterX, jitterY, rowFrom, rowTo, true)
      else this.copyPlate(this.plates[sample]!, tiles)
      for (const mesh of meshes) this.work.raster.draw(mesh, this.camera, pose, jitterX, jitterY, rowFrom, rowTo)
      const { colour } = this.work.raster
      tiles.forEachRun((start, end) => {
        for (let i = 3 * start; i < 3 * end; i++) into[i]! += colour[i]! / count
      })
    })
  }

  private movingMeshes(instant: Instant, timeS: number): LitMesh[] {
    const plank = lightMesh(this.stage.plank(instant, timeS), this.light)
    plank.shade = { map: this.plankShadow, share: this.light.sunShare }
    return [plank, ...this.stage.actors(instant, timeS).map((mesh) => lightMesh(mesh, this.light))]
  }

  private castShadows(instant: Instant, timeS: number): void {
    const { sun } = this.light
    const plank = this.stage.plank(instant, timeS)
    this.movingShadow.clear()
    this.movingShadow.cast(plank.positions, plank.triangles, groundFlat(sun))
    this.plankShadow.clear()
    const onPlank = plankFlat(this.scenario, instant, sun)
    for (const mesh of this.stage.actors(instant, timeS)) {
      this.movingShadow.cast(mesh.positions, mesh.triangles, groundFlat(sun))
      this.plankShadow.cast(mesh.positions, mesh.triangles, onPlank)
    }
    this.movingShadow.soften(1, 2)
    this.plankShadow.soften(1, 2)
  }

  private markShadows(tiles: TileMask, pose: Pose): void {
    this.movingShadow.forEachBlock(5, (x, z) => {
      const p = this.camera.project(pose, [x, 0, z])
      if (p.depthM > 0.3) tiles.markBox({ left: p.xPx - 24, top: p.yPx - 12, right: p.xPx + 24, bottom: p.yPx + 12 })
    })
  }

  /** Ground, sky and standing things as seen now; moving shadows only when asked for. */
  private paintPlate(
    plate: Plate,
    pose: Pose,
    timeS: number,
    jitterX: number,
    jitterY: number,
    rowFrom: number,
    rowTo: number,
    finished: boolean,
  ): void {
    const { widthPx: w } = this.scenario.camera
    const { colour, inverseDepth } = plate.raster
    const { position, right, down, forward } = pose
    const f = this.camera.focalPx
    for (let i = rowFrom * w; i < rowTo * w; i++) {
      const rx = this.rays.x[i]! + jitterX / f
      const ry = this.rays.y[i]! + jitterY / f
      const dx = forward[0] + rx * right[0] + ry * down[0]
      const dy = forward[1] + rx * right[1] + ry * down[1]
      const dz = forward[2] + rx * right[2] + ry * down[2]
      const depth = -position[1] / dy
      if (dy < -1e-4 && depth < 400) {
        const x = position[0] + depth * dx
        const z = position[2] + depth * dz
        this.ground.paint(x, z, depth / f / Math.sqrt(Math.max(0.02, -dy)), colour, 3 * i)
        const dark = 1 - this.light.sunShare * this.standingShadow.at(x, z)
        const far = Math.min(0.8, depth / 350)
        colour[3 * i] = colour[3 * i]! * dark * (1 - far) + 0.3 * far
        colour[3 * i + 1] = colour[3 * i + 1]! * dark * (1 - far) + 0.37 * far
        colour[3 * i + 2] = colour[3 * i + 2]! * dark * (1 - far) + 0.36 * far
        inverseDepth[i] = 1 / depth
        plate.kind[i] = GROUND
        plate.groundX[i] = x
        plate.groundZ[i] = z
        if (finished) this.shadeGround(colour, i, x, z)
      } else {
        inverseDepth[i] = 0
        plate.kind[i] = SKY
        if (finished) this.sky.paint(dx, dy, dz, timeS, colour, 3 * i)
      }
    }
    for (const mesh of this.standing) plate.raster.draw(mesh, this.camera, pose, jitterX, jitterY, rowFrom, rowTo)
  }

  private shadeGround(colour: Float32Array, pixel: number, x: number, z: number): void {
    const dark = this.movingShadow.at(x, z)
    if (dark === 0) return
    const k = 1 - this.light.sunShare * dark
    colour[3 * pixel]! *= k
    colour[3 * pixel + 1]! *= k
    colour[3 * pixel + 2]! *= k
  }

  /** For a camera on a tripod the standing scene is drawn once a sample. */
  private preparePlates(): void {
    const { widthPx: w, heightPx: h } = this.scenario.camera
    const pose = this.pose(0)
    const { count } = this.sampling
    for (let sample = 0; sample < count; sample++) {
      const plate = this.newPlate()
      this.plates.push(plate)
      const [jitterX, jitterY] = jitter(sample, count)
      this.paintPlate(plate, pose, 0, jitterX, jitterY, 0, h, false)
      const before = this.depthOfGround(pose, jitterX, jitterY)
      for (let i = 0; i < w * h; i++) {
        const z = plate.raster.inverseDepth[i]!
        if (z !== 0 && (plate.kind[i] === SKY || z > before(i) * 1.0001)) plate.kind[i] = THING
        if (z === 0) this.skyShare[i]! += 1 / count
        else for (let k = 0; k < 3; k++) this.stillSum[3 * i + k]! += plate.raster.colour[3 * i + k]! / count
      }
    }
  }

  /** Inverse depth of bare ground behind each pixel. */
  private depthOfGround(pose: Pose, jitterX: number, jitterY: number): (pixel: number) => number {
    const f = this.camera.focalPx
    return (i) => {
      const dy =
        pose.forward[1] +
        (this.rays.x[i]! + jitterX / f) * pose.right[1] +
        (this.rays.y[i]! + jitterY / f) * pose.down[1]
      return Math.max(0, -dy / pose.position[1])
    }
  }

  private copyPlate(plate: Plate, tiles: TileMask): void {
    const { colour, inverseDepth } = this.work.raster
    tiles.forEachRun((start, end) => {
      colour.set(plate.raster.colour.subarray(3 * start, 3 * end), 3 * start)
      inverseDepth.set(plate.raster.inverseDepth.subarray(start, end), start)
      for (let i = start; i < end; i++) {
        if (plate.kind[i] === GROUND) this.shadeGround(colour, i, plate.groundX[i]!, plate.groundZ[i]!)
        else if (plate.kind[i] === SKY) for (let k = 0; k < 3; k++) colour[3 * i + k] = this.skyNow[3 * i + k]!
      }
    })
  }

  private paintSkyNow(timeS: number, rowFrom: number, rowTo: number): void {
    const { widthPx: w } = this.scenario.camera
    const { right, down, forward } = this.pose(timeS)
    for (let i = rowFrom * w; i < rowTo * w; i++) {
      if (this.skyShare[i] === 0) continue
      const rx = this.rays.x[i]!
      const ry = this.rays.y[i]!
      this.sky.paint(
        forward[0] + rx * right[0] + ry * down[0],
        forward[1] + rx * right[1] + ry * down[1],
        forward[2] + rx * right[2] + ry * down[2],
        timeS,
        this.skyNow,
        3 * i,
      )
    }
  }

  private fillStill(rowFrom: number, rowTo: number, into: Float32Array): void {
    const { widthPx: w } = this.scenario.camera
    for (let i = rowFrom * w; i < rowTo * w; i++) {
      const share = this.skyShare[i]!
      for (let k = 0; k < 3; k++) into[3 * i + k] = this.stillSum[3 * i + k]! + share * this.skyNow[3 * i + k]!
    }
  }

  /** Box around the dog at a time, px, not cut by the picture; null without a dog. */
  dogBox(timeS: number): Box | null {
    const instant = instantAt(this.recording, timeS)
    if (!instant.dog) return null
    const [dog] = this.stage.actors(instant, timeS)
    return dog ? this.work.raster.extent(lightMesh(dog, this.light), this.camera, this.pose(timeS)) : null
  }
}

/** Places of the samples within a pixel: a rotated grid. */
function jitter(sample: number, count: number): readonly [number, number] {
  return [(sample + 0.5) / count - 0.5, (((sample * 3 + 1) % count) + 0.5) / count - 0.5]
}
