import type { PlankOutline } from '../../analysis/scene/plank-outline.ts'
import type { PlankFilm } from '../../analysis/dog/plank-film.ts'
import type { Strip } from '../../analysis/dog/strip.ts'
import { stripGrid, type StripGrid } from '../../analysis/dog/strip-grid.ts'
import { personMesh } from '../../sample-clips/people/person-mesh.ts'
import { Camera } from '../../sample-clips/picture/camera.ts'
import type { Mesh } from '../../sample-clips/shapes/mesh.ts'
import { Random, wander } from '../../sample-clips/random.ts'
import type { Colour, RideAction, Scenario } from '../../sample-clips/scenario.ts'
import {
  bendShape,
  plankFromWorld,
  worldFromPlank,
  type BoardPlace,
} from '../../sample-clips/simulation/board-place.ts'
import type { DrawnDog } from '../../sample-clips/scene/stage.ts'
import { instantAt, record, type Recording } from '../../sample-clips/simulation/recording.ts'
import { unit, type Vec3 } from '../../sample-clips/world/vector.ts'

const NOTHING = -1
const PLANK_NEAR = 0

/** Strips of one ride: what differs from the empty scene, drawn from meshes in the plane through the near edge. */
export class ShapeFilm {
  readonly film: PlankFilm
  readonly scenario: Scenario
  readonly recording: Recording
  private readonly action: RideAction
  private readonly body: DrawnDog
  private readonly random: Random
  private readonly eye: Vec3
  private readonly nearZ: number
  private readonly grid: StripGrid
  private readonly scene: (xM: number, yM: number) => readonly [number, number, number]
  private readonly base: Float32Array
  private readonly edgeSd: number
  private readonly textureSd: number
  private readonly plankTextureSd: number
  private readonly light: number
  private readonly sun: Vec3
  private readonly sunShare: number
  private readonly shadow: { readonly shiftM: number; readonly top: number; readonly below: number }

  constructor(scenario: Scenario, action: RideAction, body: DrawnDog) {
    this.scenario = scenario
    this.action = action
    this.body = body
    this.random = new Random(scenario.seed).fork('shapes')
    const { random } = this
    const { board, camera } = scenario
    this.recording = record(scenario)
    this.eye = new Camera(camera, random.fork('camera')).basePosition
    this.nearZ = (camera.side * board.widthM) / 2
    const plankPx =
      (3.66 * (camera.focalMmEquivalent / 36) * Math.max(camera.widthPx, camera.heightPx)) / camera.distanceM
    this.grid = stripGrid(board.lengthM, Math.max(0.005, board.lengthM / Math.min(820, plankPx)), 0.35)
    this.scene = someScene(random.fork('scene'))
    this.textureSd = 1.5 + 18 * random.unit() ** 2
    this.plankTextureSd = 1 + 4 * random.unit() ** 2
    this.edgeSd = 5 * random.unit() ** 2
    this.light = random.between(0.6, 1.3)
    this.sun = unit([random.between(-1, 1), random.between(0.3, 1), random.between(-1, 1)])
    this.sunShare = random.between(0, 0.8)
    this.shadow = {
      shiftM: random.between(-0.5, 0.5),
      top: random.chance(0.6) ? random.between(0, 2) : 0,
      below: random.chance(0.6) ? random.between(0, 5) : 0,
    }
    this.base = this.habits()
    this.film = this.filmed()
  }

  private habits(): Float32Array {
    const { columns, rows } = this.grid
    const out = new Float32Array(columns * rows)
    const alongTrouble = Array.from({ length: columns }, () => 1)
    for (let i = 0; i < 4; i++) {
      const from = this.random.integer(0, columns)
      const wide = this.random.integer(5, 60)
      const strength = this.random.chance(0.3) ? this.random.between(1, 3) : 1
      for (let c = from; c < Math.min(columns, from + wide); c++) alongTrouble[c] = strength
    }
    for (let i = 0; i < out.length; i++)
      out[i] = 0.45 * Math.exp(0.5 * this.random.normal()) * alongTrouble[i % columns]!
    return out
  }

  private filmed(): PlankFilm {
    const { scenario, random } = this
    const hz = random.pick([24, 25, 30, 30, 30, 50, 60, 60])
    const frames = Math.floor(scenario.durationS * hz)
    const ptsS = Float64Array.from({ length: frames }, (_, k) => k / hz)
    const exposureS = Math.min(0.9 / hz, 1 / random.pick([50, 100, 200, 400]))
    const shake = wander(random, 0.5, 6)
    const shakeM = random.chance(0.5) ? random.between(0, 0.004) : 0
    const strips: Strip[] = []
    const outlines: PlankOutline[] = []
    for (let k = 0; k < frames; k++) {
      const place = instantAt(this.recording, ptsS[k]!).board
      outlines.push(this.outlineAt(place))
      strips.push(this.stripAt(ptsS[k]!, exposureS, shakeM * shake(ptsS[k]!), outlines[k]!))
    }
    const { board } = scenario
    return {
      ptsS,
      grid: this.grid,
      strips,
      outlines,
      lengthM: board.lengthM,
    }
  }

  /** Where a world place appears in the plane through the near edge, in plank coordinates. */
  private seen(place: BoardPlace, p: Vec3): { alongM: number; aboveM: number; beyond: number } {
    const [ex, ey, ez] = this.eye
    const share = (this.nearZ - ez) / (p[2] - ez)
    const hit: Vec3 = [ex + share * (p[0] - ex), ey + share * (p[1] - ey), this.nearZ]
    const side = this.scenario.camera.side
    return { ...plankFromWorld(this.scenario.board, place, hit), beyond: side * (this.nearZ - p[2]) }
  }

  private outlineAt(place: BoardPlace): PlankOutline {
    const { board } = this.scenario
    const far = -this.nearZ
    const at = (alongM: number, aboveM: number, z: number) =>
      this.seen(place, worldFromPlank(board, place, alongM, aboveM, z))
    const ends = [0, board.lengthM].map((alongM) => ({
      top: at(alongM, 0, far),
      bottom: Math.min(at(alongM, -board.thicknessM, far).aboveM, -board.thicknessM),
      alongM,
    }))
    const [a, b] = [ends[0]!, ends[1]!]
    return {
      farTopM: [a.top.aboveM, b.top.aboveM],
      farShiftM: [a.top.alongM - a.alongM, b.top.alongM - b.alongM],
      bottomM: [a.bottom, b.bottom],
    }
  }

  private stripAt(atS: number, exposureS: number, offM: number, outline: PlankOutline): Strip {
    const { columns, rows } = this.grid
    const cells = columns * rows
    const mean = new Float32Array(cells)
    const cover = new Float32Array(columns)
    for (const part of [-0.25, 0.25]) this.draw(atS + part * exposureS, outline, 0.5, mean, cover)
    const deviation = new Uint8Array(cells)
    const noise = 0.03 + 0.2 * this.textureSd * 0.05
    const shade = this.shadeOf(cover)
    const angleRad = instantAt(this.recording, atS).board.angleRad
    const { fromAboveM, fromAlongM, cellM } = this.grid
    for (let row = 0; row < rows; row++) {
      const above = fromAboveM + row * cellM
      for (let c = 0; c < columns; c++) {
        const share = (fromAlongM + c * cellM) / this.scenario.board.lengthM
        const top = outline.farTopM[0] + share * (outline.farTopM[1] - outline.farTopM[0])
        const bottom = outline.bottomM[0] + share * (outline.bottomM[1] - outline.bottomM[0])
        const onPlank = share > 0 && share < 1
        let base = this.base[row * columns + c]!
        if (onPlank) {
          const off = Math.min(Math.abs(above - top - offM), Math.abs(above - bottom - offM), Math.abs(above - offM))
          base += this.edgeSd * Math.exp(-((off / (0.8 * cellM)) ** 2)) * (0.5 + Math.abs(offM) * 200)
        }
        if (onPlank && above < top && above > 0) base += this.shadow.top * shade[c]!
        else if (above < bottom) base += this.shadow.below * shade[c]!
        const v = Math.hypot(base, mean[row * columns + c]!) + noise * Math.abs(this.random.normal())
        deviation[row * columns + c] = Math.min(254, Math.round(10 * v))
      }
    }
    return { ptsS: atS, angleRad, deviation }
  }

  /** Columns under the dog's shadow, softened, 0-1. */
  private shadeOf(cover: Float32Array): Float32Array {
    const { columns, cellM } = this.grid
    const shift = Math.round(this.shadow.shiftM / cellM)
    const reach = Math.round(0.06 / cellM)
    const out = new Float32Array(columns)
    let sum = 0
    for (let c = -reach; c < columns + reach; c++) {
      sum += cover[Math.min(columns - 1, Math.max(0, c + reach - shift))]!
      if (c >= 0 && c < columns) out[c] = Math.min(1, sum / (2 * reach + 1))
      sum -= cover[Math.min(columns - 1, Math.max(0, c - reach - shift))]!
    }
    return out
  }

  /** Adds the difference of dog and handler from the empty scene at one moment, weighted. */
  private draw(atS: number, outline: PlankOutline, weight: number, mean: Float32Array, cover: Float32Array): void {
    const { columns, rows, fromAboveM, fromAlongM, cellM } = this.grid
    const instant = instantAt(this.recording, atS)
    const { board } = this.scenario
    const depth = new Float32Array(columns * rows).fill(NOTHING)
    const colour = new Float32Array(3 * columns * rows)
    // Far from the plank it is not in the strip.
    const [reachM] = instant.dog!.trunk.shoulder
    if (Math.abs(reachM) < board.lengthM / 2 + 1.8)
      this.rasterise(this.body(instant.dog!, atS), instant.board, outline, depth, colour)
    for (let c = 0; c < columns; c++) {
      for (let row = Math.round(rows * 0.4); row < rows; row++) {
        if (depth[row * columns + c]! !== NOTHING) {
          cover[c]! += weight
          break
        }
      }
    }
    if (instant.handler !== null && this.action.handler !== null) {
      this.rasterise(personMesh(this.action.handler.person, instant.handler), instant.board, outline, depth, colour)
    }
    for (let i = 0; i < columns * rows; i++) {
      if (depth[i]! === NOTHING) continue
      const c = i % columns
      const above = fromAboveM + ((i / columns) | 0) * cellM
      const alongM = fromAlongM + c * cellM
      const share = alongM / board.lengthM
      const top = outline.farTopM[0] + share * (outline.farTopM[1] - outline.farTopM[0])
      const bottom = outline.bottomM[0] + share * (outline.bottomM[1] - outline.bottomM[0])
      const onPlank = share > 0 && share < 1 && above > bottom && above < Math.max(0, top)
      const zone = alongM < board.contactM || alongM > board.lengthM - board.contactM
      const world = worldFromPlank(board, instant.board, alongM, above, this.nearZ)
      const [by, bu, bv] = onPlank
        ? levels(zone ? board.zoneColour : board.middleColour, above > 0 ? 1 : 0.7)
        : this.scene(world[0], world[1])
      const [oy, ou, ov] = levels([colour[3 * i]!, colour[3 * i + 1]!, colour[3 * i + 2]!], this.light)
      const sd = onPlank ? this.plankTextureSd : this.textureSd
      const dy = oy - by + 0.6 * this.textureSd * this.random.normal() * 0.3
      const d = Math.sqrt((dy * dy) / (9 + 1.5 * sd * sd) + ((ou - bu) ** 2 + (ov - bv) ** 2) / (6 + 0.08 * sd * sd))
      mean[i]! += weight * Math.min(25, d)
    }
  }

  /** Colours under the sky's light from above and the sun's from its side. */
  private lit(colours: readonly number[], normals: readonly number[]): Float32Array {
    const [x, y, z] = this.sun
    const out = new Float32Array(colours.length)
    for (let at = 0; at < out.length; at += 3) {
      const toSun = Math.max(0, normals[at]! * x + normals[at + 1]! * y + normals[at + 2]! * z)
      const sky = 0.7 + 0.3 * normals[at + 1]!
      const light = (1 - this.sunShare) * sky + 1.6 * this.sunShare * toSun
      for (let k = at; k < at + 3; k++) out[k] = colours[k]! * light
    }
    return out
  }

  private rasterise(
    mesh: Mesh,
    place: BoardPlace,
    outline: PlankOutline,
    depth: Float32Array,
    colour: Float32Array,
  ): void {
    const { columns, rows, fromAboveM, fromAlongM, cellM } = this.grid
    const { widthM, lengthM } = this.scenario.board
    const { positions, triangles, normals } = mesh
    const colours = this.lit(mesh.colours, normals)
    const corners = positions.length / 3
    const cs = new Float32Array(corners)
    const rs = new Float32Array(corners)
    const ds = new Float32Array(corners)
    const { board, camera } = this.scenario
    const [ex, ey, ez] = this.eye
    const cosine = Math.cos(place.angleRad)
    const sine = Math.sin(place.angleRad)
    const axisM = board.pivotHeightM - board.axisBelowTopM
    for (let i = 0; i < corners; i++) {
      const z = positions[3 * i + 2]!
      const share = (this.nearZ - ez) / (z - ez)
      const x = ex + share * (positions[3 * i]! - ex)
      const y = ey + share * (positions[3 * i + 1]! - ey) - axisM
      const alongM = lengthM / 2 + x * cosine - y * sine
      const bentM = place.bendM * bendShape(Math.min(alongM, lengthM), lengthM)
      cs[i] = (alongM - fromAlongM) / cellM
      rs[i] = (x * sine + y * cosine - board.axisBelowTopM + bentM - fromAboveM) / cellM
      ds[i] = camera.side * (this.nearZ - z)
    }
    for (let t = 0; t < triangles.length; t += 3) {
      const [a, b, c] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!]
      const minC = Math.max(0, Math.ceil(Math.min(cs[a]!, cs[b]!, cs[c]!)))
      const maxC = Math.min(columns - 1, Math.floor(Math.max(cs[a]!, cs[b]!, cs[c]!)))
      const minR = Math.max(0, Math.ceil(Math.min(rs[a]!, rs[b]!, rs[c]!)))
      const maxR = Math.min(rows - 1, Math.floor(Math.max(rs[a]!, rs[b]!, rs[c]!)))
      const area = (cs[b]! - cs[a]!) * (rs[c]! - rs[a]!) - (cs[c]! - cs[a]!) * (rs[b]! - rs[a]!)
      if (maxC < minC || maxR < minR || area === 0) continue
      for (let row = minR; row <= maxR; row++) {
        for (let col = minC; col <= maxC; col++) {
          const u = ((cs[b]! - col) * (rs[c]! - row) - (cs[c]! - col) * (rs[b]! - row)) / area
          const v = ((cs[c]! - col) * (rs[a]! - row) - (cs[a]! - col) * (rs[c]! - row)) / area
          const w = 1 - u - v
          if (u < 0 || v < 0 || w < 0) continue
          const beyond = u * ds[a]! + v * ds[b]! + w * ds[c]!
          const i = row * columns + col
          // Further away is larger; 10 keeps it above NOTHING for things before the plank.
          const here = 10 - beyond
          if (depth[i]! >= here) continue
          const above = fromAboveM + row * cellM
          const share = (fromAlongM + col * cellM) / lengthM
          if (share > 0 && share < 1) {
            const top = outline.farTopM[0] + share * (outline.farTopM[1] - outline.farTopM[0])
            const bottom = outline.bottomM[0] + share * (outline.bottomM[1] - outline.bottomM[0])
            const surface = above <= 0 ? PLANK_NEAR : (above / Math.max(1e-3, top)) * widthM
            if (above > bottom && above < Math.max(0, top) && beyond > surface + 0.01) continue
          }
          depth[i] = here
          for (let k = 0; k < 3; k++) {
            colour[3 * i + k] = u * colours[3 * a + k]! + v * colours[3 * b + k]! + w * colours[3 * c + k]!
          }
        }
      }
    }
  }
}

/** Brightness and two colour differences as video levels. */
function levels([r, g, b]: Colour, light: number): readonly [number, number, number] {
  const tone = (x: number) => Math.min(1, Math.max(0, x * light)) ** (1 / 2.2)
  const [tr, tg, tb] = [tone(r), tone(g), tone(b)]
  const y = 0.2126 * tr + 0.7152 * tg + 0.0722 * tb
  return [16 + 219 * y, 128 + (224 * (tb - y)) / 1.8556, 128 + (224 * (tr - y)) / 1.5748]
}

/** What lies behind the plank: patches of smoothly changing brightness and colour. */
function someScene(random: Random): (xM: number, yM: number) => readonly [number, number, number] {
  const baseY = random.between(50, 190)
  const baseU = random.between(112, 134)
  const baseV = random.between(116, 140)
  const waves = Array.from({ length: 6 }, () => ({
    kx: random.between(-6, 6),
    ky: random.between(-3, 3),
    phase: random.between(0, 6.3),
    y: random.between(0, 22),
    u: random.between(0, 4),
    v: random.between(0, 4),
  }))
  return (xM, yM) => {
    const out: [number, number, number] = [baseY, baseU, baseV]
    for (const wave of waves) {
      const s = Math.sin(wave.kx * xM + wave.ky * yM + wave.phase)
      out[0] += wave.y * s
      out[1] += wave.u * s
      out[2] += wave.v * s
    }
    return out
  }
}
