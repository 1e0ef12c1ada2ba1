import { Mesh } from '../../sample-clips/shapes/mesh.ts'
import type { Random } from '../../sample-clips/random.ts'
import type { Colour, DogSpec } from '../../sample-clips/scenario.ts'
import { dogFrame, isFore, pawSide } from '../../sample-clips/simulation/dog-frame.ts'
import type { DogPose } from '../../sample-clips/simulation/recording.ts'
import {
  add,
  cross,
  middleJoint,
  mix,
  norm,
  scale,
  subtract,
  unit,
  type Vec3,
} from '../../sample-clips/world/vector.ts'
import type { AnimalModel } from './animal-model.ts'

/** How one invented animal differs from its model. */
interface Build {
  readonly legGirth: number
  readonly trunkGirth: number
  readonly headSize: number
  readonly carriageRad: number
  readonly tailRad: number
  readonly wagRad: number
  readonly wagHz: number
  readonly colours: readonly Colour[]
}

/** An affine map: three columns and an origin. */
interface Affine {
  readonly x: Vec3
  readonly y: Vec3
  readonly z: Vec3
  readonly at: Vec3
}

/**
 * An animal of `shared/animals` that goes where the simulated dog goes: its trunk lies between the dog's shoulder and
 * hip points, its soles stand exactly where the dog's paws stand, and the joints between follow.
 */
export class Animal {
  readonly spec: DogSpec
  private readonly model: AnimalModel
  private readonly build: Build
  private readonly unitM: number
  private readonly soles: readonly Vec3[]
  private readonly groups: Uint8Array

  /** @param spec of the simulated dog; its length of trunk and legs are changed towards the animal's own. */
  constructor(model: AnimalModel, spec: DogSpec, random: Random) {
    this.model = model
    const shoulder = this.middle('FrontUpperLeg')
    const hip = this.middle('BackLeg')
    const longness = Math.hypot(shoulder[0] - hip[0], shoulder[1] - hip[1]) / shoulder[1]
    this.spec = {
      ...spec,
      legLength: 1,
      bodyLength: (longness * 0.72 * random.between(0.85, 1.2)) / 0.7,
    }
    this.unitM = dogFrame(this.spec).shoulderUpM / shoulder[1]
    this.build = someBuild(spec, model, random)
    this.groups = Uint8Array.from(model.boneNames, (name) => groupOf(name))
    this.soles = [0, 1, 2, 3].map((paw) => this.soleOf(paw))
  }

  mesh(pose: DogPose, timeS: number): Mesh {
    const { model, build, unitM } = this
    const maps = this.maps(pose, timeS).map(({ x, y, z, at }) => Float64Array.of(...x, ...y, ...z, ...at))
    const mesh = new Mesh()
    const corners = model.positions.length / 3
    const positions = new Array<number>(3 * corners)
    const normals = new Array<number>(3 * corners)
    const colours = new Array<number>(3 * corners)
    const sum = new Float64Array(12)
    for (let i = 0; i < corners; i++) {
      sum.fill(0)
      for (let k = 4 * i; k < 4 * i + 4; k++) {
        const weight = model.weights[k]!
        if (weight === 0) continue
        const map = maps[this.groups[model.bones[k]!]!]!
        for (let e = 0; e < 12; e++) sum[e]! += weight * map[e]!
      }
      const at = 3 * i
      const [px, py, pz] = [model.positions[at]!, model.positions[at + 1]!, model.positions[at + 2]!]
      const [nx, ny, nz] = [model.normals[at]!, model.normals[at + 1]!, model.normals[at + 2]!]
      let square = 0
      for (let e = 0; e < 3; e++) {
        positions[at + e] = unitM * (sum[e]! * px + sum[3 + e]! * py + sum[6 + e]! * pz) + sum[9 + e]!
        const n = sum[e]! * nx + sum[3 + e]! * ny + sum[6 + e]! * nz
        normals[at + e] = n
        square += n * n
      }
      const norm = Math.sqrt(square) || 1
      const colour = build.colours[model.materials[i]!]!
      for (let e = 0; e < 3; e++) {
        normals[at + e]! /= norm
        colours[at + e] = colour[e]!
      }
    }
    mesh.positions = positions
    mesh.normals = normals
    mesh.colours = colours
    mesh.triangles = Array.from(model.triangles)
    return mesh
  }

  private joint(name: string): Vec3 {
    const at = this.model.joints.get(name)
    if (at === undefined) throw new Error(`${this.model.name} has no bone ${name}.`)
    return at
  }

  private middle(name: string): Vec3 {
    return mix(this.joint(`${name}.L`), this.joint(`${name}.R`), 0.5)
  }

  /** Middle of a foot's lowest part, m at rest. */
  private soleOf(paw: number): Vec3 {
    const { model, unitM } = this
    const group = FOOT + paw
    const foot: Vec3[] = []
    for (let i = 0; i < model.positions.length / 3; i++) {
      let share = 0
      for (let k = 0; k < 4; k++) if (this.groups[model.bones[4 * i + k]!] === group) share += model.weights[4 * i + k]!
      if (share > 0.5)
        foot.push(scale([model.positions[3 * i]!, model.positions[3 * i + 1]!, model.positions[3 * i + 2]!], unitM))
    }
    const lowest = Math.min(...foot.map((p) => p[1]))
    const sole = foot.filter((p) => p[1] < lowest + 0.01 * this.spec.heightM)
    const mean = (axis: 0 | 2) => sole.reduce((sum, p) => sum + p[axis], 0) / sole.length
    return [mean(0), lowest, mean(2)]
  }

  private maps(pose: DogPose, timeS: number): Affine[] {
    const { build, unitM } = this
    const shoulder = scale(this.middle('FrontUpperLeg'), unitM)
    const hip = scale(this.middle('BackLeg'), unitM)
    const trunk = carried(hip, shoulder, pose.trunk.hip, pose.trunk.shoulder, build.trunkGirth)
    const side: Vec3 = [0, 0, 1]
    const nod = 0.06 * Math.sin(4 * Math.PI * pose.phase + 0.6) * Math.min(1, pose.speedMps)
    const neck = applied(trunk, scale(this.joint('Neck1'), unitM))
    const head = sized(rotated(trunk, neck, side, build.carriageRad + nod), neck, build.headSize)
    const tailRoot = applied(trunk, scale(this.joint('Tail1'), unitM))
    const wag = build.wagRad * Math.sin(2 * Math.PI * build.wagHz * timeS)
    const tail = rotated(rotated(trunk, tailRoot, side, build.tailRad), tailRoot, [0, 1, 0], wag)
    const maps: Affine[] = []
    maps[TRUNK] = trunk
    maps[HEAD] = head
    maps[TAIL] = tail
    for (let paw = 0; paw < 4; paw++) this.legMaps(paw, pose, trunk, maps)
    return maps
  }

  private legMaps(paw: number, pose: DogPose, trunk: Affine, maps: Affine[]): void {
    const { build, unitM, spec } = this
    const fore = isFore(paw)
    const letter = pawSide(paw) === -1 ? 'L' : 'R'
    const at = (name: string) => scale(this.joint(`${name}.${letter}`), unitM)
    const swing = pose.swing[paw]!
    const swinging = swing > 0 ? Math.sin(Math.PI * swing) : 0
    const body = unit(subtract(pose.trunk.shoulder, pose.trunk.hip))
    const slopeRad = Math.asin(Math.max(-0.6, Math.min(0.6, body[1]))) * (1 - swinging)
    const droopRad = swinging * (fore ? 0.9 : 0.7)
    const rest = this.soles[paw]!
    const sole = pose.paws[paw]!
    const identity: Affine = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1], at: subtract(sole, rest) }
    const foot = rotated(sized(identity, sole, 1 + 0.6 * (build.legGirth - 1)), sole, [0, 0, 1], slopeRad - droopRad)
    const ankle = applied(foot, at(fore ? 'IKFrontLeg' : 'IKBackLeg'))
    const girth = build.legGirth
    maps[FOOT + paw] = foot
    const forward = body
    if (fore) {
      const [s, e, a] = [at('FrontUpperLeg'), at('FrontLowerLeg'), at('IKFrontLeg')]
      const root = applied(trunk, s)
      const elbow = middleJoint(root, ankle, length(s, e), length(e, a), scale(forward, -1))
      maps[UPPER + paw] = carried(s, e, root, elbow, girth)
      maps[LOWER + paw] = carried(e, a, elbow, ankle, girth)
      maps[HOCK + paw] = maps[LOWER + paw]!
      return
    }
    const [h, k, c, a] = [at('BackLeg'), at('BackUpperLeg'), at('BackLowerLeg'), at('IKBackLeg')]
    const root = applied(trunk, h)
    // The hock folds while the leg swings, and leans with the trunk.
    const up = subtract(c, a)
    const fold = -0.35 * swinging + 0.5 * slopeRad
    const hock = add(ankle, [
      up[0] * Math.cos(fold) - up[1] * Math.sin(fold) - 0.01 * spec.heightM * swinging,
      up[0] * Math.sin(fold) + up[1] * Math.cos(fold),
      up[2],
    ])
    const knee = middleJoint(root, hock, length(h, k), length(k, c), forward)
    maps[UPPER + paw] = carried(h, k, root, knee, girth)
    maps[LOWER + paw] = carried(k, c, knee, hock, girth)
    maps[HOCK + paw] = carried(c, a, hock, ankle, girth)
  }
}

const TRUNK = 0
const HEAD = 1
const TAIL = 2
const UPPER = 3
const LOWER = 7
const HOCK = 11
const FOOT = 15

function groupOf(bone: string): number {
  const side = bone.endsWith('.R') ? 1 : 0
  if (/^(Neck|Head|Ear|Jaw|Horn)/.test(bone)) return HEAD
  if (bone.startsWith('Tail')) return TAIL
  if (/^(FF|IKFrontLeg)\./.test(bone)) return FOOT + side
  if (/^(FFB|IKBackLeg)\./.test(bone)) return FOOT + 2 + side
  if (bone.startsWith('FrontUpperLeg')) return UPPER + side
  if (bone.startsWith('FrontLowerLeg')) return LOWER + side
  if (bone.startsWith('BackLeg')) return UPPER + 2 + side
  if (bone.startsWith('BackUpperLeg')) return LOWER + 2 + side
  if (bone.startsWith('BackLowerLeg')) return HOCK + 2 + side
  return TRUNK
}

const length = (a: Vec3, b: Vec3): number => norm(subtract(b, a))

/** Carries the segment a-b to p-q, drawn out along it, thicker across by a factor; side stays as near as it can. */
function carried(a: Vec3, b: Vec3, p: Vec3, q: Vec3, girth: number): Affine {
  const from = axes(unit(subtract(b, a)))
  const to = axes(unit(subtract(q, p)))
  const along = length(p, q) / Math.max(1e-6, length(a, b))
  // M = to * diag(along, girth, girth) * from^T
  const column = (axis: 0 | 1 | 2): Vec3 =>
    add(
      add(scale(to[0], along * from[0][axis]), scale(to[1], girth * from[1][axis])),
      scale(to[2], girth * from[2][axis]),
    )
  const linear = { x: column(0), y: column(1), z: column(2), at: [0, 0, 0] as Vec3 }
  return { ...linear, at: subtract(p, applied(linear, a)) }
}

function axes(along: Vec3): readonly [Vec3, Vec3, Vec3] {
  const up = unit(cross([0, 0, 1], along))
  return [along, up, cross(along, up)]
}

function applied(map: Affine, p: Vec3): Vec3 {
  return add(map.at, turnedBy(map, p))
}

function turnedBy(map: Affine, v: Vec3): Vec3 {
  return add(add(scale(map.x, v[0]), scale(map.y, v[1])), scale(map.z, v[2]))
}

/** A map followed by a turn about an axis through a place. */
function rotated(map: Affine, about: Vec3, axis: Vec3, angleRad: number): Affine {
  const c = Math.cos(angleRad)
  const s = Math.sin(angleRad)
  const turn = (v: Vec3): Vec3 =>
    add(
      add(scale(v, c), scale(cross(axis, v), s)),
      scale(axis, (axis[0] * v[0] + axis[1] * v[1] + axis[2] * v[2]) * (1 - c)),
    )
  return { x: turn(map.x), y: turn(map.y), z: turn(map.z), at: add(about, turn(subtract(map.at, about))) }
}

/** A map followed by growing about a place. */
function sized(map: Affine, about: Vec3, by: number): Affine {
  return {
    x: scale(map.x, by),
    y: scale(map.y, by),
    z: scale(map.z, by),
    at: add(about, scale(subtract(map.at, about), by)),
  }
}

function someBuild(spec: DogSpec, model: AnimalModel, random: Random): Build {
  const counts = new Array<number>(model.materialCount).fill(0)
  for (const material of model.materials) counts[material]!++
  const largest = counts.indexOf(Math.max(...counts))
  const { main, second, white } = spec.coat
  const colours = counts.map((_, i): Colour => (i === largest ? main : random.pick([main, second, second, white])))
  return {
    legGirth: random.between(0.8, 1.7),
    trunkGirth: random.between(0.85, 1.25),
    headSize: random.between(0.75, 1.15),
    carriageRad: random.between(-0.7, 0.35),
    tailRad: random.between(-0.9, 0.9),
    wagRad: random.between(0, 0.6),
    wagHz: random.between(0.6, 3),
    colours,
  }
}
