import { Mesh, ringsAlong } from '../shapes/mesh.ts'
import type { Colour, PersonSpec } from '../scenario.ts'
import type { PersonPose } from '../simulation/person-motion.ts'
import { add, addScaled, middleJoint, mix, type Vec3 } from '../world/vector.ts'

const SHOES: Colour = [0.05, 0.05, 0.06]

/** A clothed person: legs to the planted feet, trunk, head with hair or cap, arms that swing or reach. */
export function personMesh(
  person: PersonSpec,
  pose: PersonPose,
  into = new Mesh({ sizeM: 0.05, strength: 0.07, stretch: 1.5 }),
): Mesh {
  const h = person.heightM
  const { pelvis, heading } = pose
  const lean = 0.05 * Math.min(2, pose.speedMps) * heading
  const side: Vec3 = [0, 0, 1]
  const neck = add(pelvis, [lean * h * 0.35, 0.3 * h, 0])
  const limb = (points: readonly (readonly [Vec3, number])[], colour: Colour): void =>
    into.tube(
      ringsAlong(
        points.map(([at, r]) => ({ at, upM: r, sideM: r })),
        side,
        3,
      ),
      10,
      () => colour,
    )
  pose.feet.forEach((foot, i) => {
    const hip = add(pelvis, [0, -0.01 * h, (i === 0 ? -1 : 1) * 0.05 * h])
    const ankle = add(foot, [-0.03 * heading, 0.09, 0])
    const knee = middleJoint(hip, ankle, 0.245 * h, 0.235 * h, [heading, 0.05, 0])
    limb(
      [
        [add(hip, [0, 0.05 * h, 0]), 0.055 * h],
        [hip, 0.056 * h],
        [mix(hip, knee, 0.6), 0.043 * h],
        [knee, 0.036 * h],
        [mix(knee, ankle, 0.4), 0.034 * h],
        [ankle, 0.027 * h],
      ],
      person.trousers,
    )
    const toe = add(foot, [0.13 * heading, 0.035, 0])
    limb(
      [
        [add(foot, [-0.08 * heading, 0.05, 0]), 0.01],
        [add(foot, [-0.06 * heading, 0.05, 0]), 0.045],
        [add(foot, [0.03 * heading, 0.05, 0]), 0.048],
        [toe, 0.035],
        [add(toe, [0.035 * heading, -0.01, 0]), 0.008],
      ],
      SHOES,
    )
  })
  into.tube(
    ringsAlong(
      [
        { at: add(pelvis, [0, -0.05 * h, 0]), upM: 0.055 * h, sideM: 0.08 * h },
        { at: add(pelvis, [0, 0.03 * h, 0]), upM: 0.068 * h, sideM: 0.098 * h },
        { at: mix(pelvis, neck, 0.5), upM: 0.068 * h, sideM: 0.095 * h },
        { at: mix(pelvis, neck, 0.82), upM: 0.07 * h, sideM: 0.115 * h },
        { at: mix(pelvis, neck, 0.97), upM: 0.045 * h, sideM: 0.075 * h },
        { at: neck, upM: 0.03 * h, sideM: 0.035 * h },
      ],
      side,
      3,
    ),
    12,
    (along) => (along < 0.12 ? person.trousers : person.jacket),
  )
  pose.hands.forEach((hand, i) => {
    const outward = i === 0 ? -1 : 1
    const shoulder = add(mix(pelvis, neck, 0.88), [0, 0, outward * 0.115 * h])
    const swing = Math.sin(2 * Math.PI * pose.phase + (i === 0 ? 0 : Math.PI)) * Math.min(1, pose.speedMps) * 0.35
    const hang = add(shoulder, [Math.sin(swing) * 0.3 * h + 0.02, -0.31 * h * Math.cos(swing), outward * 0.03 * h])
    const wrist = hand ?? hang
    const elbow = middleJoint(shoulder, wrist, 0.165 * h, 0.155 * h, [-heading, -0.6, outward * 0.3])
    limb(
      [
        [addScaled(shoulder, [0, 1, 0], 0.02 * h), 0.02 * h],
        [shoulder, 0.034 * h],
        [elbow, 0.027 * h],
        [mix(elbow, wrist, 0.85), 0.021 * h],
      ],
      person.jacket,
    )
    limb(
      [
        [mix(elbow, wrist, 0.83), 0.016 * h],
        [wrist, 0.024 * h],
        [addScaled(wrist, [wrist[0] - elbow[0], wrist[1] - elbow[1], wrist[2] - elbow[2]], 0.22), 0.014 * h],
      ],
      person.skin,
    )
  })
  head(into, person, neck, heading)
  return into
}

function head(mesh: Mesh, person: PersonSpec, neck: Vec3, heading: number): void {
  const h = person.heightM
  const at = (forward: number, up: number): Vec3 => add(neck, [forward * h * heading, up * h, 0])
  const tube = (points: readonly { at: Vec3; upM: number; sideM: number }[], colour: Colour): void =>
    mesh.tube(ringsAlong(points, [0, 0, 1], 3), 12, () => colour)
  tube(
    [
      { at: at(0, -0.02), upM: 0.026 * h, sideM: 0.026 * h },
      { at: at(0.003, 0.035), upM: 0.028 * h, sideM: 0.027 * h },
      { at: at(0.012, 0.06), upM: 0.045 * h, sideM: 0.036 * h },
      { at: at(0.008, 0.1), upM: 0.053 * h, sideM: 0.043 * h },
      { at: at(0, 0.135), upM: 0.043 * h, sideM: 0.038 * h },
      { at: at(0, 0.158), upM: 0.01 * h, sideM: 0.01 * h },
    ],
    person.skin,
  )
  const top = person.cap ?? person.hair
  tube(
    [
      { at: at(-0.012, 0.085), upM: 0.05 * h, sideM: 0.046 * h },
      { at: at(-0.008, 0.115), upM: 0.054 * h, sideM: 0.047 * h },
      { at: at(-0.004, 0.15), upM: 0.04 * h, sideM: 0.036 * h },
      { at: at(-0.004, 0.165), upM: 0.008 * h, sideM: 0.008 * h },
    ],
    top,
  )
  if (person.cap)
    tube(
      [
        { at: at(0.03, 0.118), upM: 0.006 * h, sideM: 0.03 * h },
        { at: at(0.1, 0.112), upM: 0.005 * h, sideM: 0.026 * h },
      ],
      person.cap,
    )
}
