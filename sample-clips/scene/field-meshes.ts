import { Mesh, ringsAlong } from '../shapes/mesh.ts'
import { personMesh } from '../people/person-mesh.ts'
import type { Random } from '../random.ts'
import type { BoardSpec, Colour, FieldSpec, PersonSpec } from '../scenario.ts'
import { frameAt, unit, type Vec3 } from '../world/vector.ts'
import { standMesh } from './plank-mesh.ts'

/** Everything of the training field that stands still, far side away from the camera. */
export function fieldMeshes(field: FieldSpec, board: BoardSpec, cameraSide: 1 | -1, random: Random): Mesh[] {
  const solid = new Mesh({ sizeM: 0.12, strength: 0.08, stretch: 3 })
  const leaves = new Mesh({ sizeM: 0.05, strength: 0.1, stretch: 1 }, true)
  const at = (x: number, y: number, farM: number): Vec3 => [x, y, -cameraSide * farM]
  const { alongM = 0 } = field
  const scene: Scene = { solid, leaves, at, random }
  if (field.backdrop === 'hall') hall(scene)
  else {
    hills(scene)
    for (let i = 0; i < 9; i++)
      tree(scene, -24 + 6 * i + random.between(-2, 2), random.between(17, 34), random.between(4.5, 8.5))
    if (field.backdrop === 'hedge') hedge(scene, 13.5)
    else
      for (let i = 0; i < 7; i++)
        tree(scene, -15 + 5 * i + random.between(-1.5, 1.5), random.between(11, 15), random.between(3, 5))
    fence(scene, 9.5)
    shed(scene, random.between(-7, -4), 11.3, [0.2, 0.28, 0.22], [0.16, 0.1, 0.08])
    shed(scene, random.between(4, 8), 12, [0.4, 0.3, 0.2], [0.22, 0.07, 0.05])
  }
  jump(scene, random.between(-4.8, -3.4), random.between(3.2, 5), random.pick(PAINTS))
  jump(scene, random.between(3.2, 4.8), random.between(3.5, 6), random.pick(PAINTS))
  tunnel(scene, random.between(-2.4, 1.2), random.between(4.6, 6.5), random.pick(PAINTS))
  for (let i = 0; i < 5; i++) cone(scene, random.between(-5, 5), random.between(2, 8))
  if (random.chance(0.6)) bench(scene, random.between(-3, 3), 8.6)
  for (const { positions } of [solid, leaves]) for (let i = 0; i < positions.length; i += 3) positions[i]! += alongM
  // A base that slides is drawn with what moves.
  return board.baseSlide === undefined ? [solid, leaves, standMesh(board)] : [solid, leaves]
}

/** People who watch from the fence, each shifting a little; built anew at each instant. */
export function bystanderMesh(people: readonly Bystander[], cameraSide: 1 | -1, timeS: number): Mesh {
  const mesh = new Mesh({ sizeM: 0.05, strength: 0.07, stretch: 1.5 })
  for (const { person, x, farM, phase, heading } of people) {
    const z = -cameraSide * farM
    const sway = 0.025 * Math.sin(0.9 * timeS + phase) + 0.012 * Math.sin(2.3 * timeS + 2 * phase)
    const h = person.heightM
    const lifted = 0.5 + 0.5 * Math.sin(0.5 * timeS + phase)
    personMesh(
      person,
      {
        pelvis: [x + sway, 0.52 * h, z],
        heading,
        feet: [
          [x + 0.03, 0, z - 0.11],
          [x - 0.04, 0, z + 0.11],
        ],
        phase: 0,
        speedMps: 0,
        hands: [phase > 3 ? [x + sway + 0.22 * heading, (0.6 + 0.06 * lifted) * h, z - 0.08] : null, null],
      },
      mesh,
    )
  }
  return mesh
}

export interface Bystander {
  readonly person: PersonSpec
  readonly x: number
  readonly farM: number
  readonly phase: number
  readonly heading: number
}

interface Scene {
  readonly solid: Mesh
  readonly leaves: Mesh
  readonly at: (x: number, y: number, farM: number) => Vec3
  readonly random: Random
}

const PAINTS: readonly Colour[] = [
  [0.5, 0.06, 0.05],
  [0.06, 0.14, 0.45],
  [0.62, 0.4, 0.04],
  [0.08, 0.3, 0.16],
  [0.34, 0.1, 0.36],
]
const WHITE: Colour = [0.72, 0.72, 0.7]
const WOOD: Colour = [0.2, 0.14, 0.09]

function block(
  { solid, at }: Scene,
  x: number,
  y: number,
  farM: number,
  halfX: number,
  halfY: number,
  halfFar: number,
  colour: Colour,
): void {
  solid.box(frameAt(at(x, y, farM), [1, 0, 0], [0, 1, 0]), halfX, halfY, halfFar, colour)
}

/** A loose cloud of leaf-sized triangles, darker low and inside. */
function foliage(
  { leaves, random }: Scene,
  centre: Vec3,
  radiusM: Vec3,
  count: number,
  sizeM: number,
  colour: Colour,
): void {
  for (let i = 0; i < count; i++) {
    const d = unit([random.normal(), random.normal(), random.normal()])
    const r = random.between(0.55, 1) ** 0.5
    const p: Vec3 = [
      centre[0] + d[0] * radiusM[0] * r,
      centre[1] + d[1] * radiusM[1] * r,
      centre[2] + d[2] * radiusM[2] * r,
    ]
    if (p[1] < 0.02) continue
    const tone = (0.55 + 0.35 * r + 0.22 * d[1]) * random.between(0.75, 1.25)
    const warm = random.between(0.9, 1.15)
    const paint: Colour = [colour[0] * tone * warm, colour[1] * tone, colour[2] * tone * random.between(0.8, 1.1)]
    const normal = unit([
      d[0] + 0.5 * random.normal(),
      d[1] + 0.5 * random.normal() + 0.3,
      d[2] + 0.5 * random.normal(),
    ])
    const corners = [0, 1, 2].map(() => {
      const s = sizeM * random.between(0.6, 1.2)
      return leaves.corner(
        [p[0] + s * random.normal() * 0.7, p[1] + s * random.normal() * 0.7, p[2] + s * random.normal() * 0.7],
        normal,
        paint,
        random.between(0, 1),
        random.between(0, 1),
      )
    })
    leaves.triangle(corners[0]!, corners[1]!, corners[2]!)
  }
}

function tree(scene: Scene, x: number, farM: number, heightM: number): void {
  const { random, at, solid } = scene
  const green = random.pick<Colour>([
    [0.1, 0.17, 0.05],
    [0.13, 0.19, 0.06],
    [0.16, 0.18, 0.06],
    [0.19, 0.15, 0.05],
    [0.08, 0.14, 0.06],
  ])
  solid.tube(
    ringsAlong(
      [
        { at: at(x, 0, farM), upM: 0.035 * heightM, sideM: 0.035 * heightM },
        { at: at(x + 0.1, 0.5 * heightM, farM), upM: 0.022 * heightM, sideM: 0.022 * heightM },
      ],
      [0, 0, 1],
      3,
    ),
    8,
    () => [0.09, 0.07, 0.05],
  )
  for (let i = 0; i < 6; i++) {
    const spread = 0.2 * heightM
    const centre = at(
      x + spread * random.normal() * 0.7,
      heightM * random.between(0.48, 0.82),
      farM + spread * random.normal() * 0.5,
    )
    foliage(scene, centre, [heightM * 0.23, heightM * 0.2, heightM * 0.23], 330, 0.034 * heightM, green)
  }
}

function hedge(scene: Scene, farM: number): void {
  const { random } = scene
  block(scene, 0, 0.75, farM, 32, 0.75, 0.35, [0.03, 0.05, 0.02])
  for (let x = -28; x < 28; x += 0.8) {
    foliage(scene, scene.at(x, 0.95 + 0.1 * random.normal(), farM - 0.1), [0.65, 0.95, 0.5], 130, 0.11, [
      0.1,
      0.16 + 0.02 * random.normal(),
      0.05,
    ])
  }
}

function fence(scene: Scene, farM: number): void {
  for (let x = -16; x <= 16; x += 2) block(scene, x, 0.6, farM, 0.05, 0.6, 0.05, WOOD)
  for (const y of [0.35, 0.72, 1.05]) block(scene, 0, y, farM - 0.06, 16, 0.05, 0.018, [0.26, 0.19, 0.13])
}

function shed(scene: Scene, x: number, farM: number, wall: Colour, roof: Colour): void {
  const { solid, at } = scene
  block(scene, x, 1.05, farM, 1.5, 1.05, 1.1, wall)
  for (let i = -7; i <= 7; i++)
    block(scene, x + i * 0.2, 1.05, farM - 1.11, 0.008, 1.05, 0.01, [wall[0] * 0.6, wall[1] * 0.6, wall[2] * 0.6])
  block(scene, x - 0.6, 0.95, farM - 1.12, 0.38, 0.9, 0.02, [wall[0] * 0.5, wall[1] * 0.5, wall[2] * 0.5])
  block(scene, x + 0.65, 1.35, farM - 1.12, 0.4, 0.32, 0.02, WHITE)
  block(scene, x + 0.65, 1.35, farM - 1.13, 0.34, 0.26, 0.02, [0.1, 0.13, 0.16])
  solid.face(
    at(x - 1.75, 2.05, farM - 1.35),
    at(x + 1.75, 2.05, farM - 1.35),
    at(x + 1.75, 2.9, farM),
    at(x - 1.75, 2.9, farM),
    roof,
  )
  solid.face(
    at(x - 1.75, 2.05, farM + 1.35),
    at(x + 1.75, 2.05, farM + 1.35),
    at(x + 1.75, 2.9, farM),
    at(x - 1.75, 2.9, farM),
    roof,
  )
  for (const end of [-1.5, 1.5])
    solid.face(
      at(x + end, 2.1, farM - 1.1),
      at(x + end, 2.1, farM + 1.1),
      at(x + end, 2.85, farM),
      at(x + end, 2.85, farM),
      wall,
    )
}

/** Far rising fields and woods, and a row of village roofs before them. */
function hills(scene: Scene): void {
  const { solid, at, random } = scene
  const ridge = (farM: number, lowM: number, wavesM: number, colour: Colour): void => {
    const phase = random.between(0, 6)
    const height = (x: number): number =>
      lowM +
      wavesM * (0.5 * Math.sin(0.021 * x + phase) + 0.3 * Math.sin(0.057 * x + 2 * phase) + 0.12 * Math.sin(0.23 * x))
    for (let x = -150; x < 150; x += 5) {
      const tone = random.between(0.92, 1.08)
      solid.face(
        at(x, 0, farM),
        at(x + 5, 0, farM),
        at(x + 5, height(x + 5), farM),
        at(x, height(x), farM),
        [colour[0] * tone, colour[1] * tone, colour[2] * tone],
        [0, 0.8, 0.6],
      )
    }
  }
  ridge(160, 13, 8, [0.22, 0.28, 0.27])
  ridge(110, 6.5, 4, [0.16, 0.22, 0.15])
  for (let i = 0; i < 6; i++) {
    const x = random.between(-45, 45)
    const w = random.between(3, 5)
    block(
      scene,
      x,
      2.6,
      75,
      w,
      2.6,
      3,
      random.pick<Colour>([
        [0.5, 0.45, 0.38],
        [0.42, 0.24, 0.18],
        [0.55, 0.53, 0.5],
      ]),
    )
    solid.face(
      at(x - w - 0.3, 5, 71.5),
      at(x + w + 0.3, 5, 71.5),
      at(x + w - 0.8, 8, 75),
      at(x - w + 0.8, 8, 75),
      [0.25, 0.12, 0.09],
    )
  }
}

/** Indoors: a wall with panels, a stripe and strip lights, open above. */
function hall(scene: Scene): void {
  for (let i = -10; i < 10; i++) {
    const tone = 0.34 + 0.03 * ((i * 7) % 3)
    block(scene, i * 2.4 + 1.2, 2.6, 10.5, 1.19, 2.6, 0.1, [tone, tone * 1.02, tone * 0.98])
    block(scene, i * 2.4, 2.6, 10.38, 0.06, 2.6, 0.06, [0.2, 0.2, 0.21])
  }
  block(scene, 0, 0.55, 10.35, 24, 0.55, 0.05, [0.14, 0.2, 0.27])
  block(scene, 0, 5.3, 10.2, 24, 0.15, 0.3, [0.12, 0.12, 0.13])
}

function jump(scene: Scene, x: number, farM: number, paint: Colour): void {
  for (const side of [-0.75, 0.75]) {
    block(scene, x + side, 0.5, farM, 0.03, 0.5, 0.03, WHITE)
    block(scene, x + side * 1.35, 0.42, farM, 0.2, 0.38, 0.02, paint)
    block(scene, x + side, 0.03, farM, 0.05, 0.03, 0.3, WHITE)
  }
  for (let i = -4; i < 4; i++)
    block(scene, x + (i + 0.5) * 0.18, 0.45, farM, 0.09, 0.02, 0.02, i % 2 === 0 ? WHITE : paint)
}

function tunnel({ solid, at }: Scene, x: number, farM: number, paint: Colour): void {
  const rings = Array.from({ length: 33 }, (_, i) => {
    const t = i / 32
    return {
      at: at(x - 1.5 + 3 * t, 0.31, farM + 0.9 * Math.sin(1.6 * t)),
      upM: 0.31 + 0.025 * (i % 2),
      sideM: 0.31 + 0.025 * (i % 2),
    }
  })
  solid.tube(ringsAlong(rings, [0, 0, 1], 1), 18, () => paint)
}

function cone({ solid, at }: Scene, x: number, farM: number): void {
  const ring = (y: number, r: number) => ({ at: at(x, y, farM), upM: r, sideM: r })
  solid.tube(ringsAlong([ring(0, 0.13), ring(0.02, 0.11), ring(0.28, 0.02)], [0, 0, 1], 2), 10, (along) =>
    along > 0.5 && along < 0.75 ? WHITE : [0.6, 0.16, 0.03],
  )
}

function bench(scene: Scene, x: number, farM: number): void {
  block(scene, x, 0.45, farM, 0.8, 0.025, 0.2, WOOD)
  block(scene, x, 0.75, farM + 0.2, 0.8, 0.14, 0.02, WOOD)
  for (const side of [-0.7, 0.7]) block(scene, x + side, 0.22, farM, 0.03, 0.22, 0.18, [0.12, 0.12, 0.12])
}
