import { dogMesh } from '../dog/dog-mesh.ts'
import { personMesh } from '../people/person-mesh.ts'
import { Mesh } from '../shapes/mesh.ts'
import { Random } from '../random.ts'
import type { Colour, PersonSpec, Scenario } from '../scenario.ts'
import { worldFromPlank } from '../simulation/board-place.ts'
import { WEIGHT_HEIGHT_M, type DropPose } from '../simulation/drop-motion.ts'
import type { DogPose, Instant } from '../simulation/recording.ts'
import { frameAt, subtract, type Vec3 } from '../world/vector.ts'
import { bystanderMesh, fieldMeshes, type Bystander } from './field-meshes.ts'
import { plankMesh, standMesh } from './plank-mesh.ts'

/** The shape of what crosses, at a pose and time. */
export type DrawnDog = (pose: DogPose, timeS: number) => Mesh

/** What can be seen: the standing field, and what moves, built anew for each instant. */
export class Stage {
  readonly standing: readonly Mesh[]
  private readonly scenario: Scenario
  private readonly drawnDog: DrawnDog | null
  private readonly bystanders: readonly Bystander[]

  constructor(scenario: Scenario, drawnDog?: DrawnDog) {
    this.scenario = scenario
    this.drawnDog = drawnDog ?? null
    const random = new Random(scenario.seed).fork('field')
    this.standing = fieldMeshes(scenario.field, scenario.board, scenario.camera.side, random)
    this.bystanders = Array.from({ length: scenario.field.bystanders }, () => ({
      person: somebody(random),
      x: random.between(-6, 6) + (scenario.field.alongM ?? 0),
      farM: random.between(7.6, 9),
      phase: random.between(0, 6),
      heading: random.pick([-1, 1]),
    }))
  }

  plank(instant: Instant, timeS: number): Mesh {
    return this.slid(plankMesh(this.scenario.board, instant.board), timeS)
  }

  /** A mesh that goes with the base. */
  private slid(mesh: Mesh, timeS: number): Mesh {
    const { baseSlide } = this.scenario.board
    if (baseSlide === undefined || timeS < baseSlide.atS) return mesh
    for (let i = 0; i < mesh.positions.length; i += 3) mesh.positions[i]! += baseSlide.byM
    return mesh
  }

  /** Dog, people and weight: all that throws a moving shadow besides the plank. */
  actors(instant: Instant, timeS: number): Mesh[] {
    const { action, camera } = this.scenario
    const meshes: Mesh[] = []
    if (action.kind === 'ride') {
      if (instant.dog) meshes.push(this.drawnDog?.(instant.dog, timeS) ?? dogMesh(action.dog, instant.dog, timeS))
      if (instant.handler && action.handler) meshes.push(personMesh(action.handler.person, instant.handler))
    } else if (instant.drop) {
      meshes.push(personMesh(action.person, instant.drop.person))
      meshes.push(weightMesh(instant.drop, instant, action.weightColour))
    }
    if (this.scenario.board.baseSlide !== undefined) meshes.push(this.slid(standMesh(this.scenario.board), timeS))
    if (this.bystanders.length > 0) meshes.push(bystanderMesh(this.bystanders, camera.side, timeS))
    return meshes
  }

  /** Middle of the weight in a drop test. */
  weightMiddle(instant: Instant): Vec3 | null {
    return instant.drop && middleOf(instant.drop, instant)
  }
}

function middleOf(drop: DropPose, instant: Instant): Vec3 {
  const lean = drop.standing ? instant.board.angleRad : 0
  const half = WEIGHT_HEIGHT_M / 2
  return [drop.weight[0] + half * Math.sin(lean), drop.weight[1] + half * Math.cos(lean), drop.weight[2]]
}

/** A block with a handle on it, and the pole that brought it. */
function weightMesh(drop: DropPose, instant: Instant, colour: Colour): Mesh {
  const mesh = new Mesh({ sizeM: 0.03, strength: 0.06, stretch: 1 })
  const lean = drop.standing ? instant.board.angleRad : 0
  const up: Vec3 = [Math.sin(lean), Math.cos(lean), 0]
  const forward: Vec3 = [Math.cos(lean), -Math.sin(lean), 0]
  const half = WEIGHT_HEIGHT_M / 2
  mesh.box(frameAt(middleOf(drop, instant), forward, up), 0.055, half, 0.045, colour)
  const top: Vec3 = [
    drop.weight[0] + up[0] * (WEIGHT_HEIGHT_M + 0.012),
    drop.weight[1] + up[1] * (WEIGHT_HEIGHT_M + 0.012),
    drop.weight[2],
  ]
  mesh.box(frameAt(top, forward, up), 0.03, 0.012, 0.012, [0.05, 0.05, 0.05])
  if (drop.pole) {
    const [a, b] = drop.pole
    const middle: Vec3 = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2]
    const along = subtract(b, a)
    mesh.box(frameAt(middle, along, [0, 1, 0.01]), Math.hypot(...along) / 2, 0.012, 0.012, [0.42, 0.3, 0.16])
  }
  return mesh
}

const JACKETS: readonly Colour[] = [
  [0.32, 0.05, 0.06],
  [0.06, 0.13, 0.3],
  [0.08, 0.24, 0.14],
  [0.45, 0.33, 0.06],
  [0.3, 0.3, 0.32],
  [0.22, 0.08, 0.24],
  [0.5, 0.47, 0.42],
]
const TROUSERS: readonly Colour[] = [
  [0.05, 0.06, 0.1],
  [0.08, 0.08, 0.08],
  [0.2, 0.17, 0.12],
  [0.1, 0.14, 0.22],
]
const SKINS: readonly Colour[] = [
  [0.55, 0.36, 0.26],
  [0.4, 0.23, 0.14],
  [0.2, 0.11, 0.07],
  [0.62, 0.42, 0.32],
]
const HAIRS: readonly Colour[] = [
  [0.03, 0.02, 0.02],
  [0.12, 0.07, 0.03],
  [0.35, 0.25, 0.12],
  [0.4, 0.38, 0.36],
]

/** An invented person. */
export function somebody(random: Random): PersonSpec {
  return {
    heightM: random.between(1.52, 1.86),
    jacket: random.pick(JACKETS),
    trousers: random.pick(TROUSERS),
    skin: random.pick(SKINS),
    hair: random.pick(HAIRS),
    cap: random.chance(0.35) ? random.pick(JACKETS) : null,
  }
}

/** The plank as (along, distance from the -z edge) under a ray of the sun, for shadows that fall on it. */
export function plankFlat(
  scenario: Scenario,
  instant: Instant,
  sun: Vec3,
): (x: number, y: number, z: number) => readonly [number, number] {
  const { board } = scenario
  const { angleRad } = instant.board
  const along: Vec3 = [Math.cos(angleRad), -Math.sin(angleRad), 0]
  const up: Vec3 = [Math.sin(angleRad), Math.cos(angleRad), 0]
  const start = worldFromPlank(board, instant.board, 0, 0, -board.widthM / 2)
  const rise = sun[0] * up[0] + sun[1] * up[1] + sun[2] * up[2]
  return (x, y, z) => {
    const dx = x - start[0]
    const dy = y - start[1]
    const above = dx * up[0] + dy * up[1]
    const k = above > -0.02 ? above / Math.max(0.05, rise) : 1e3
    return [(dx - k * sun[0]) * along[0] + (dy - k * sun[1]) * along[1], z - start[2] - k * sun[2]]
  }
}
