import type { Colour, DogSpec } from '../scenario.ts'
import { isFore, pawSide } from '../simulation/dog-frame.ts'
import type { DogPose } from '../simulation/recording.ts'
import { Mesh, ringsAlong } from '../shapes/mesh.ts'
import {
  add,
  addScaled,
  frameAt,
  middleJoint,
  mix,
  place,
  scale,
  subtract,
  unit,
  type Frame,
  type Vec3,
} from '../world/vector.ts'
import { coatColour, type Part } from './coat.ts'

const NOSE: Colour = [0.015, 0.014, 0.014]

/** Builds the dog of one instant: trunk, neck, head, ears, tail and four jointed legs whose soles are exact. */
export function dogMesh(dog: DogSpec, pose: DogPose, timeS: number): Mesh {
  const mesh = new Mesh({
    sizeM: 0.012 + 0.8 * dog.hair * dog.heightM,
    strength: 0.1 + 0.9 * Math.min(0.12, dog.hair),
    stretch: 2.5,
  })
  const { shoulder, hip } = pose.trunk
  const body = frameAt(hip, subtract(shoulder, hip), [0, 1, 0])
  const trunkM = Math.hypot(shoulder[0] - hip[0], shoulder[1] - hip[1], shoulder[2] - hip[2])
  trunk(mesh, dog, body, trunkM)
  headAndNeck(mesh, dog, body, trunkM, pose, timeS)
  tail(mesh, dog, body, pose, timeS)
  for (let paw = 0; paw < 4; paw++) leg(mesh, dog, body, trunkM, pose, paw)
  return mesh
}

function paint(dog: DogSpec, part: Part): (along: number, up: number, side: number) => Colour {
  return (along, up, side) => coatColour(dog.coat, part, along, up, side)
}

function trunk(mesh: Mesh, dog: DogSpec, body: Frame, trunkM: number): void {
  const h = dog.heightM
  const g = dog.girth
  const hair = dog.hair * h
  const at = (forward: number, up: number, upM: number, sideM: number) => ({
    at: place(body, forward * trunkM, up * h, 0),
    upM: upM * h * g + hair,
    sideM: sideM * h * g + hair,
  })
  const long = h / trunkM
  const rings = ringsAlong(
    [
      at(-0.19 * long, 0.01, 0.03, 0.03),
      at(-0.15 * long, 0.015, 0.09, 0.075),
      at(-0.02 * long, 0.035, 0.135, 0.105),
      at(0.22, 0.05, 0.115, 0.095),
      at(0.45, 0.035, 0.125, 0.105),
      at(0.72, 0.0, 0.165, 0.12),
      at(0.95, -0.005, 0.18, 0.12),
      at(1 + 0.09 * long, 0.0, 0.15, 0.105),
      at(1 + 0.17 * long, 0.01, 0.07, 0.06),
      at(1 + 0.19 * long, 0.015, 0.02, 0.02),
    ],
    body.side,
    4,
  )
  mesh.tube(rings, 16, paint(dog, 'trunk'))
}

function headAndNeck(mesh: Mesh, dog: DogSpec, body: Frame, trunkM: number, pose: DogPose, timeS: number): void {
  const h = dog.heightM
  // The head is large on small dogs, and nods a little with the stride.
  const head = (0.19 + 0.02 / Math.max(0.25, h)) * h
  const nod = 0.03 * h * Math.sin(4 * Math.PI * pose.phase + 0.6) * Math.min(1, pose.speedMps)
  const hair = dog.hair * h
  const base = place(body, trunkM + 0.04 * h, 0.09 * h, 0)
  const level: Vec3 = unit(add(scale(body.forward, 0.55), [0.45, 0, 0]))
  const lift = pose.speedMps > 2.2 ? 0.14 : 0.2
  const crown = add(addScaled(base, level, 0.21 * h), [0, lift * h + nod, 0.012 * h * Math.sin(1.3 * timeS)])
  const neck = ringsAlong(
    [
      { at: addScaled(base, level, -0.14 * h), upM: 0.08 * h * dog.girth, sideM: 0.07 * h * dog.girth },
      { at: addScaled(base, level, -0.02 * h), upM: 0.125 * h * dog.girth + hair, sideM: 0.09 * h * dog.girth + hair },
      { at: mix(base, crown, 0.4), upM: 0.095 * h + hair * 1.3, sideM: 0.075 * h + hair * 1.3 },
      { at: mix(base, crown, 0.8), upM: 0.075 * h + hair, sideM: 0.062 * h + hair },
      { at: crown, upM: 0.06 * h, sideM: 0.055 * h },
    ],
    body.side,
    3,
  )
  mesh.tube(neck, 14, paint(dog, 'neck'))
  const down = 0.32 + 0.1 * Math.sin(0.9 * timeS)
  const look = frameAt(crown, unit(add(level, [0, -down, 0])), [0, 1, 0])
  const r = head * 0.5
  const skull = ringsAlong(
    [
      { at: place(look, -0.95 * r, 0.02 * r, 0), upM: 0.2 * r, sideM: 0.2 * r },
      { at: place(look, -0.75 * r, 0.05 * r, 0), upM: 0.62 * r, sideM: 0.58 * r },
      { at: place(look, -0.2 * r, 0.1 * r, 0), upM: 0.86 * r, sideM: 0.78 * r },
      { at: place(look, 0.4 * r, 0.02 * r, 0), upM: 0.76 * r, sideM: 0.66 * r },
      { at: place(look, 0.85 * r, -0.14 * r, 0), upM: 0.5 * r, sideM: 0.42 * r },
    ],
    look.side,
    3,
  )
  mesh.tube(skull, 14, paint(dog, 'head'))
  const m = dog.muzzle
  const muzzle = ringsAlong(
    [
      { at: place(look, 0.6 * r, -0.16 * r, 0), upM: 0.52 * r, sideM: 0.42 * r },
      { at: place(look, (0.9 + 0.4 * m) * r, -0.24 * r, 0), upM: 0.38 * r, sideM: 0.31 * r },
      { at: place(look, (0.95 + 0.85 * m) * r, -0.28 * r, 0), upM: 0.29 * r, sideM: 0.25 * r },
      { at: place(look, (1.0 + 0.98 * m) * r, -0.26 * r, 0), upM: 0.14 * r, sideM: 0.13 * r },
    ],
    look.side,
    3,
  )
  mesh.tube(muzzle, 12, paint(dog, 'muzzle'))
  ball(mesh, place(look, (1.0 + 1.0 * m) * r, -0.14 * r, 0), 0.13 * r, NOSE)
  for (const side of [-1, 1] as const) {
    ball(mesh, place(look, 0.62 * r, 0.26 * r, side * 0.42 * r), 0.1 * r, NOSE)
    ear(mesh, dog, look, r, side, timeS, pose)
  }
}

function ear(mesh: Mesh, dog: DogSpec, look: Frame, r: number, side: 1 | -1, timeS: number, pose: DogPose): void {
  const flap =
    0.12 * Math.sin(4 * Math.PI * pose.phase + side) * Math.min(1, pose.speedMps) + 0.03 * Math.sin(2 * timeS)
  const root = place(look, -0.25 * r, 0.72 * r, side * 0.5 * r)
  const tip =
    dog.ears === 'prick'
      ? place(look, -0.45 * r, (1.75 + flap) * r, side * 0.72 * r)
      : dog.ears === 'half'
        ? place(look, -0.05 * r, (1.25 + flap) * r, side * 1.05 * r)
        : place(look, -0.15 * r, (-0.55 + 2 * flap) * r, side * 1.05 * r)
  const bend = dog.ears === 'prick' ? mix(root, tip, 0.5) : place(look, -0.3 * r, (0.8 + flap) * r, side * 1.0 * r)
  const rings = ringsAlong(
    [
      { at: root, upM: 0.34 * r, sideM: 0.12 * r },
      { at: bend, upM: 0.3 * r, sideM: 0.1 * r },
      { at: tip, upM: 0.05 * r, sideM: 0.04 * r },
    ],
    look.side,
    3,
  )
  mesh.tube(rings, 8, paint(dog, 'ear'))
}

function tail(mesh: Mesh, dog: DogSpec, body: Frame, pose: DogPose, timeS: number): void {
  const h = dog.heightM
  const wag = Math.sin(2 * Math.PI * (pose.speedMps < 0.3 ? 2.6 : 1.2) * timeS)
  const root = place(body, -0.15 * h, 0.08 * h, 0)
  const thick = { plume: 0.055, whip: 0.022, curl: 0.035, docked: 0.03 }[dog.tail] * h + dog.hair * h * 0.7
  const bends: readonly (readonly [number, number])[] =
    dog.tail === 'docked'
      ? [
          [-0.05, 0.04],
          [-0.1, 0.07],
        ]
      : dog.tail === 'curl'
        ? [
            [-0.1, 0.14],
            [-0.06, 0.27],
            [0.06, 0.3],
            [0.1, 0.2],
          ]
        : [
            [-0.13, -0.02],
            [-0.26, -0.02],
            [-0.38, 0.06],
            [-0.47, 0.17],
          ]
  const points = [{ at: root, upM: thick * 0.8, sideM: thick * 0.7 }]
  bends.forEach(([forward, up], i) => {
    const share = (i + 1) / bends.length
    const girth = dog.tail === 'plume' ? Math.sin(Math.PI * Math.min(0.93, 0.25 + 0.7 * share)) * 1.15 : 1 - 0.6 * share
    const p = add(
      place(body, -0.15 * h, 0.08 * h, 0),
      add(scale(body.forward, forward * h), [
        0,
        (up + 0.02 * Math.sin(4 * Math.PI * pose.phase)) * h,
        wag * 0.09 * h * share,
      ]),
    )
    points.push({ at: p, upM: Math.max(0.006 * h, thick * girth), sideM: Math.max(0.005 * h, thick * girth * 0.7) })
  })
  const end = points.at(-1)!
  points.push({
    at: addScaled(end.at, unit(subtract(end.at, points.at(-2)!.at)), end.upM),
    upM: 0.1 * end.upM,
    sideM: 0.1 * end.sideM,
  })
  mesh.tube(ringsAlong(points, body.side, 3), 10, paint(dog, 'tail'))
}

/** One leg from its girdle to its paw; the middle of the sole is where the simulation put it. */
function leg(mesh: Mesh, dog: DogSpec, body: Frame, trunkM: number, pose: DogPose, paw: number): void {
  const h = dog.heightM
  const l = h * (0.45 + 0.55 * dog.legLength)
  const fore = isFore(paw)
  const side = pawSide(paw)
  const sole = pose.paws[paw]!
  const swing = pose.swing[paw]!
  const swinging = swing > 0 ? Math.sin(Math.PI * swing) : 0
  const hair = dog.hair * h
  const root = fore
    ? place(body, trunkM + 0.03 * h, -0.03 * h, side * 0.085 * h * dog.girth)
    : place(body, 0, 0.0, side * 0.08 * h * dog.girth)
  const pawHeight = 0.028 * h + 0.004
  // The foot leans back under load and folds while it swings.
  const lean = fore ? -0.035 - 0.1 * swinging : -0.075 - 0.08 * swinging
  const footM = fore ? 0.115 * l : 0.2 * l
  const heel: Vec3 = add(sole, [
    lean * l,
    Math.sqrt(Math.max(0.2, 1 - (lean * l) ** 2 / footM ** 2)) * footM + pawHeight,
    0,
  ])
  const poleDirection: Vec3 = fore ? scale(body.forward, -1) : body.forward
  const upperM = (fore ? 0.29 : 0.31) * l
  const lowerM = (fore ? 0.31 : 0.325) * l
  const knee = middleJoint(root, heel, upperM, lowerM, poleDirection)
  const ankleTop = add(sole, [fore ? -0.012 * l : -0.018 * l, pawHeight * 1.25, 0])
  const points = fore
    ? [
        { at: addScaled(root, body.up, 0.07 * h), upM: 0.05 * h + hair, sideM: 0.03 * h + hair },
        { at: root, upM: 0.085 * h + hair, sideM: 0.05 * h + hair },
        { at: knee, upM: 0.052 * h + hair, sideM: 0.04 * h + hair },
        { at: mix(knee, heel, 0.5), upM: 0.034 * h + 0.6 * hair, sideM: 0.03 * h + 0.6 * hair },
        { at: heel, upM: 0.028 * h + 0.3 * hair, sideM: 0.027 * h + 0.3 * hair },
        { at: ankleTop, upM: 0.03 * h, sideM: 0.031 * h },
      ]
    : [
        { at: addScaled(root, body.up, 0.06 * h), upM: 0.07 * h + hair, sideM: 0.035 * h + hair },
        { at: mix(root, knee, 0.35), upM: 0.11 * h + hair, sideM: 0.05 * h + hair },
        { at: knee, upM: 0.062 * h + hair, sideM: 0.045 * h + hair },
        { at: mix(knee, heel, 0.55), upM: 0.036 * h + 0.7 * hair, sideM: 0.032 * h + 0.5 * hair },
        { at: heel, upM: 0.031 * h + 0.3 * hair, sideM: 0.026 * h + 0.3 * hair },
        { at: ankleTop, upM: 0.029 * h, sideM: 0.03 * h },
      ]
  mesh.tube(ringsAlong(points, body.side, 3), 10, paint(dog, 'leg'))
  pawShape(mesh, dog, sole, body, swinging, fore)
}

function pawShape(mesh: Mesh, dog: DogSpec, sole: Vec3, body: Frame, swinging: number, fore: boolean): void {
  const h = dog.heightM
  const droop = swinging * (fore ? 0.9 : 0.7)
  const slope = body.forward[1] * (1 - swinging)
  const toes = frameAt(sole, unit([1, slope - droop, 0]), [0, 1, 0])
  const halfHeight = 0.017 * h + 0.002
  const long = (0.06 + 0.01 * (fore ? 1 : 0)) * h
  const wide = 0.038 * h
  const points = [-0.8, -0.72, -0.2, 0.45, 0.85, 0.98].map((f, i) => ({
    at: place(toes, f * long + 0.012 * h, halfHeight * [0.9, 1.1, 1.25, 1.05, 0.75, 0.6][i]!, 0),
    upM: halfHeight * [0.2, 0.9, 1.2, 1.0, 0.7, 0.15][i]!,
    sideM: wide * [0.2, 0.7, 0.95, 1, 0.75, 0.2][i]!,
  }))
  mesh.tube(ringsAlong(points, toes.side, 2), 10, (along, up, side) =>
    coatColour(dog.coat, 'leg', 0.97 + 0.03 * along, up, side),
  )
}

function ball(mesh: Mesh, at: Vec3, radiusM: number, colour: Colour): void {
  const points = [-1, -0.8, -0.3, 0.3, 0.8, 1].map((t) => {
    const r = Math.max(0.02, Math.sqrt(1 - t * t)) * radiusM
    return { at: add(at, [t * radiusM, 0, 0]), upM: r, sideM: r }
  })
  mesh.tube(ringsAlong(points, [0, 0, 1], 1), 8, () => colour)
}
