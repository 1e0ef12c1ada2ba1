import type { Renderer } from '../picture/renderer.ts'
import type { Scenario } from '../scenario.ts'
import { chordAngleRad, groundedAngleRad, plankFromWorld, worldFromPlank } from '../simulation/board-place.ts'
import { PAWS } from '../simulation/dog-frame.ts'
import { boardEvents, pawTruth, rideEvents } from '../simulation/events.ts'
import { instantAt, type Recording } from '../simulation/recording.ts'
import { centreOf } from '../simulation/trunk.ts'
import { SOUND_MPS } from '../sound/soundtrack.ts'
import { norm, subtract } from '../world/vector.ts'
import { frameTimesS, slowMotionFactor } from './frame-times.ts'
import { MARKS, type MarkedPoints } from './marked-points.ts'

const round = (value: number, digits: number): number => Math.round(value * 10 ** digits) / 10 ** digits
const maybe = (value: number | null, digits = 4): number | null => (value === null ? null : round(value, digits))
const degrees = (rad: number): number => round((rad * 180) / Math.PI, 3)

/** Everything about the clip that a measurement may be compared with. */
export function truthFile(
  scenario: Scenario,
  recording: Recording,
  clip: string,
  renderer: Renderer,
  points: MarkedPoints,
) {
  const { board, action } = scenario
  const dog = action.kind === 'ride' ? { massKg: action.dog.massKg, shoulderHeightM: action.dog.heightM } : null
  const down = { angleRad: groundedAngleRad(board), bendM: 0 }
  const groundingPoint = worldFromPlank(board, down, board.lengthM, -board.thicknessM, 0)
  const soundWayM = norm(subtract(renderer.camera.basePosition, groundingPoint))
  return {
    schema: 'seesaw-truth/1',
    clip,
    kind: action.kind,
    description: scenario.description,
    slowMotionFactor: slowMotionFactor(scenario.camera),
    board: {
      lengthM: board.lengthM,
      widthM: board.widthM,
      pivotHeightM: board.pivotHeightM,
      contactM: board.contactM,
      restAngleDeg: degrees(chordAngleRad(board, recording.instants[0]!.board)),
      groundedAngleDeg: degrees(down.angleRad),
      thicknessM: board.thicknessM,
      axisBelowTopM: board.axisBelowTopM,
      materialWord: board.material,
    },
    boardPhysics: {
      inertiaKgM2: board.inertiaKgM2,
      imbalanceTorqueNm: board.biasTorqueNm,
      viscousNmS: board.viscousNms,
      coulombNm: board.coulombNm,
      restitution: board.restitution,
      bendMPerN: board.bendMPerN,
      groundStiffnessNPerM: board.groundStiffnessNPerM ?? null,
    },
    dog,
    camera: cameraTruth(scenario, renderer),
    cameraToGroundingPointM: round(soundWayM, 4),
    ...eventsTruth(scenario, recording, soundWayM),
    audio: { present: scenario.sound.present, distractors: scenario.sound.others },
    block: action.kind === 'dropTest' ? { massKg: action.weightKg, positionM: action.weightAlongM } : null,
    frames: framesTruth(scenario, recording, renderer, points),
  }
}

function cameraTruth({ camera, board }: Scenario, renderer: Renderer) {
  return {
    fps: camera.captureHz,
    fileFps: camera.fileHz,
    width: camera.widthPx,
    height: camera.heightPx,
    yawDeg: camera.yawDeg,
    distanceM: camera.distanceM,
    heightM: camera.heightM,
    focalMmEquivalent: camera.focalMmEquivalent,
    focalPx: round(renderer.camera.focalPx, 2),
    distortionK: camera.distortionK,
    positionM: renderer.camera.basePosition.map((v) => round(v, 4)),
    travel: camera.side === 1 ? 'leftToRight' : 'rightToLeft',
    moving: renderer.camera.moves,
    shakePx: camera.shakePx,
    pan: camera.follow > 0,
    nearEdge: `z=${round((camera.side * board.widthM) / 2, 3)}`,
    variableFrameRate: camera.variableRate,
    rotationMetadataDeg: camera.turned ? 90 : 0,
    exposureS: round(camera.exposureS, 6),
    rollingShutterS: camera.rollingShutterS,
  }
}

function eventsTruth(scenario: Scenario, recording: Recording, soundWayM: number) {
  const endS = frameTimesS(scenario).at(-1)!
  const heard = (groundedS: number | null): number | null =>
    groundedS === null || !scenario.sound.present ? null : round(groundedS + soundWayM / SOUND_MPS, 4)
  const { action } = scenario
  if (action.kind === 'dropTest') {
    const { tipStartS, groundedS } = boardEvents(scenario, recording, endS)
    const events = {
      placedS: action.placedS,
      releaseS: action.releasedS,
      tipStartS: maybe(tipStartS),
      groundedS: maybe(groundedS),
      dropFromReleaseS: maybe(groundedS === null ? null : groundedS - action.releasedS),
      dropFromTipS: maybe(groundedS === null || tipStartS === null ? null : groundedS - tipStartS),
      bangHeardS: heard(groundedS),
    }
    return { events, zones: null }
  }
  const { zones, ...ride } = rideEvents(scenario, recording, endS)
  const { groundedS, settleS, leftPlankS } = ride
  const events = {
    firstOnS: maybe(ride.firstOnS),
    tipStartS: maybe(ride.tipStartS),
    groundedS: maybe(groundedS),
    leftPlankS: maybe(leftPlankS),
    stillOnAtEnd: ride.stillOnAtEnd,
    settleS: maybe(settleS),
    advancingAtGround: ride.advancingAtGround,
    holdBeforeGroundS: maybe(groundedS === null || settleS === null ? null : groundedS - settleS),
    earlyLeave: leftPlankS !== null && (groundedS === null || leftPlankS < groundedS),
    leadPawAtTipM: maybe(ride.leadPawAtTipM),
    leadPlantedPawAtTipM: maybe(ride.leadPlantedPawAtTipM),
    bodyCentreAtTipM: maybe(ride.bodyCentreAtTipM),
    bangHeardS: heard(groundedS),
  }
  return { events, zones }
}

function framesTruth(scenario: Scenario, recording: Recording, renderer: Renderer, points: MarkedPoints) {
  const ptsS = frameTimesS(scenario)
  const instants = ptsS.map((t) => instantAt(recording, t))
  const placesPx = ptsS.map((t) => points.at(t))
  const px = Object.fromEntries(MARKS.map((name) => [name, placesPx.map((p) => p[name].map((v) => round(v, 2)))]))
  const board = {
    ptsS: ptsS.map((t) => round(t, 6)),
    angleDeg: instants.map((i) => degrees(chordAngleRad(scenario.board, i.board))),
    px,
  }
  if (scenario.action.kind === 'dropTest') {
    const blockPx = instants.map((instant, i) => {
      const p = renderer.camera.project(renderer.pose(ptsS[i]!), renderer.stage.weightMiddle(instant)!)
      return [round(p.xPx, 2), round(p.yPx, 2)]
    })
    return { ...board, blockPx }
  }
  const paws = Object.fromEntries(
    PAWS.map((name, paw) => {
      const all = instants.map((instant) => pawTruth(scenario, instant, paw))
      const column = (key: 's' | 'height' | 'lateral'): number[] => all.map((p) => round(p[key], 4))
      return [
        name,
        {
          s: column('s'),
          height: column('height'),
          lateral: column('lateral'),
          touching: all.map((p) => (p.touching ? 1 : 0)),
        },
      ]
    }),
  )
  const bodyCentreM = instants.map((i) =>
    round(plankFromWorld(scenario.board, i.board, centreOf(i.dog!.trunk)).alongM, 4),
  )
  return { ...board, paws, bodyCentreM, ...dogBoxes(scenario, renderer, ptsS) }
}

function dogBoxes({ camera }: Scenario, renderer: Renderer, ptsS: readonly number[]) {
  const cut = ptsS.map((t) => {
    const box = renderer.dogBox(t)
    if (!box) return { box: null, clipped: 1 }
    // The renderer counts from the centre of the first pixel.
    const whole = [box.left + 0.5, box.top + 0.5, box.right + 0.5, box.bottom + 0.5] as const
    const inside = [
      Math.max(0, whole[0]),
      Math.max(0, whole[1]),
      Math.min(camera.widthPx, whole[2]),
      Math.min(camera.heightPx, whole[3]),
    ] as const
    if (inside[0] >= inside[2] || inside[1] >= inside[3]) return { box: null, clipped: 1 }
    return { box: inside.map((v) => round(v, 1)), clipped: inside.some((v, i) => v !== whole[i]) ? 1 : 0 }
  })
  return { dogBoxPx: cut.map((c) => c.box), dogBoxClipped: cut.map((c) => c.clipped) }
}
