import type { BoardTrack } from '../../../../analysis/board/board-track.ts'
import type { Board } from '../../../../analysis/board/board.ts'
import { PinholeSeesaw } from '../../../../analysis/calibration/pinhole-seesaw.ts'
import type { DogTrack } from '../../../../analysis/dog/dog-track.ts'
import type { Drop } from '../../../../analysis/drop/drop-test.ts'
import { measured, withheld } from '../../../../analysis/estimate.ts'
import type { Ride } from '../../../../analysis/ride/ride.ts'
import type { MeasuredRide, RidePicture } from '../../../../main/measuring/measured-ride.ts'

export const sampleBoard: Board = { lengthM: 3.66, widthM: 0.3, pivotHeightM: 0.61, contactM: 0.9 }

const restRad = -0.3166
const camera = new PinholeSeesaw(
  {
    focalPx: 250,
    principalXPx: 160,
    principalYPx: 90,
    distortion: 0,
    yawRad: 0,
    pitchRad: 0,
    rollRad: 0,
    rightM: 0,
    heightM: 1,
    distanceM: 4,
    restAngleRad: restRad,
    groundedAngleRad: -restRad,
    axisBelowTopM: 0.045,
    thicknessM: 0.04,
  },
  sampleBoard,
  1,
)

/** 51 frames, ten a second: at rest until 2 s, falling until 3 s, grounded after. */
const ptsS = Array.from({ length: 51 }, (_, k) => k / 10)
const angleRad = ptsS.map((atS) => restRad * Math.max(-1, Math.min(1, 5 - 2 * atS)))

export const samplePicture: RidePicture = {
  board: sampleBoard,
  calibration: {
    best: camera,
    draws: [camera],
    misfitPx: 1,
    worst: { point: { name: 'pivot', when: 'rest' }, misfitPx: 1 },
    basis: {
      board: sampleBoard,
      marks: {
        clip: 'biscuit.mp4',
        rest: {
          frame: 0,
          entryEnd: { xPx: 0, yPx: 0 },
          exitEnd: { xPx: 0, yPx: 0 },
          pivot: { xPx: 0, yPx: 0 },
          upContactEdge: { xPx: 0, yPx: 0 },
          downContactEdge: { xPx: 0, yPx: 0 },
        },
      },
      picture: { widthPx: 320, heightPx: 180 },
      options: {},
    },
  },
  frameIndex: Int32Array.from(ptsS, (_, k) => k),
  ptsS: Float64Array.from(ptsS),
  angleRad: Float64Array.from(angleRad),
  cameraMotion: ptsS.map(() => Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1)),
  outlines: ptsS.map((_, k) => (k === 20 ? [200, 10, 320, 10, 330, 90, 210, 100] : null)),
  sound: { startS: 0, rateHz: 100, level: Float32Array.from({ length: 500 }, (_, k) => (k === 302 ? 0.9 : 0.02)) },
}

/** A dog that trots up, tips the board 0.87 m past the pivot, holds for half a second and stays for a second. */
export const sampleRide: Ride = {
  schema: 'tiphold.ride/1',
  program: { version: '0.1.0' },
  clip: {
    fileName: 'biscuit.mp4',
    sha256: 'c0ffee'.padEnd(64, '0'),
    widthPx: 320,
    heightPx: 180,
    rotationDeg: 0,
    frameCount: 51,
    durationS: 5.1,
    captureRateHz: 10,
    slowMotionFactor: 1,
    slowMotionEvidence: 'Nothing says that the clip was slowed.',
  },
  events: {
    firstOn: measured(1, 0.01),
    tipStart: measured(2, 0.005),
    grounded: measured(3, 0.003),
    settled: measured(2.5, 0.015),
    left: measured(4, 0.015),
    bangHeard: withheld('not-clear', 'A bark covers the landing.'),
  },
  measures: {
    leadPawAtTipM: measured(2.7, 0.015),
    bodyAtTipM: measured(2.2, 0.03),
    dropTimeS: measured(1, 0.006),
    holdBeforeGroundS: measured(0.5, 0.015),
    stayAfterGroundS: measured(1, 0.015),
    leavingMarginS: measured(1, 0.015),
    entrySpeedMps: withheld('out-of-picture', 'The approach is outside the picture: film from two steps further back.'),
    climbSpeedMps: measured(1.9, 0.05),
    bounceM: measured(0.012, 0.004),
    pauses: [],
    turnedBack: false,
  },
  zones: {
    up: { verdict: 'touched', first: measured(1, 0.01), last: measured(1.4, 0.02), clearanceM: measured(-0.6, 0.02) },
    down: {
      verdict: 'touched',
      first: measured(2.3, 0.02),
      last: measured(4, 0.015),
      clearanceM: measured(-0.7, 0.02),
      touchedAfterGround: 'yes',
    },
  },
  leaving: { verdict: 'after-ground' },
  footfalls: [
    { alongM: 0.3, fromS: 1, toS: 1.4, limb: 'front', confidence: 1 },
    { alongM: 0.2, fromS: 1.2, toS: 1.5, limb: 'hind', confidence: 0.9 },
    { alongM: 2.7, fromS: 1.8, toS: 2.3, limb: 'front', confidence: 1 },
    { alongM: 3.4, fromS: 2.5, toS: 4, limb: 'front', confidence: 1 },
  ],
  frames: {
    ptsS,
    boardAngleDeg: angleRad.map((rad) => (rad * 180) / Math.PI),
    leadPawM: ptsS.map((atS) => (atS < 0.8 || atS > 4 ? null : Math.min(3.4, 2.7 * (atS - 1)))),
    rearPawM: ptsS.map((atS) => (atS < 1.2 || atS > 4 ? null : Math.min(2.9, 2.7 * (atS - 1.2)))),
    bodyM: ptsS.map(() => null),
  },
  notes: [],
}

export const sampleTrack: BoardTrack = {
  ptsS: Float64Array.from(ptsS),
  angleRad: Float64Array.from(angleRad),
  sdRad: new Float64Array(ptsS.length).fill(0.001),
  seen: new Uint8Array(ptsS.length).fill(1),
  restAngleRad: restRad,
  commonSdRad: 0.001,
  scaleSd: 0.005,
  lengthM: sampleBoard.lengthM,
}

export const sampleDog: DogTrack = {
  ptsS: Float64Array.from(ptsS),
  leadPawM: curve(sampleRide.frames.leadPawM),
  leadPawSdM: new Float64Array(ptsS.length).fill(0.015),
  rearPawM: curve(sampleRide.frames.rearPawM),
  rearPawSdM: new Float64Array(ptsS.length).fill(0.03),
  bodyM: curve(sampleRide.frames.bodyM),
  bodySdM: new Float64Array(ptsS.length).fill(NaN),
  footfalls: sampleRide.footfalls.map((one) => ({ ...one, alongSdM: 0.02, fromSdS: 0.015, toSdS: 0.015 })),
  firstOn: { kind: 'seen', atS: 1, sdS: 0.01, alongM: 0.3, alongSdM: 0.02 },
  lastOff: { kind: 'seen', atS: 4, sdS: 0.015, alongM: 3.4, alongSdM: 0.02 },
  stillOnAtEnd: false,
  onAtStart: false,
}

function curve(values: readonly (number | null)[]): Float64Array {
  return Float64Array.from(values, (value) => value ?? NaN)
}

export const sampleMeasured: MeasuredRide = {
  ride: sampleRide,
  dog: sampleDog,
  track: sampleTrack,
  picture: samplePicture,
}

/** The same dog jumps off before the board begins to tip. */
export const bailOff: Ride = {
  ...sampleRide,
  events: {
    ...sampleRide.events,
    tipStart: withheld('never-tipped', 'The board never began to tip.'),
    grounded: withheld('never-tipped', 'The board never began to tip.'),
    settled: withheld('never-tipped', 'The board never began to tip.'),
    left: measured(1.9, 0.02),
  },
  measures: {
    ...sampleRide.measures,
    leadPawAtTipM: withheld('never-tipped', 'The board never began to tip.'),
    bodyAtTipM: withheld('never-tipped', 'The board never began to tip.'),
    dropTimeS: withheld('never-tipped', 'The board never began to tip.'),
    holdBeforeGroundS: withheld('never-tipped', 'The board never began to tip.'),
    stayAfterGroundS: withheld('never-tipped', 'The board never began to tip.'),
    leavingMarginS: withheld('never-tipped', 'The board never began to tip.'),
    bounceM: withheld('never-tipped', 'The board never began to tip.'),
  },
  leaving: { verdict: 'before-tip' },
  footfalls: sampleRide.footfalls.slice(0, 2),
}

export const sampleDrop: Drop = {
  clip: 'weight.mp4',
  massKg: 1,
  massAtM: 3.21,
  events: {
    placed: measured(0.5, 0.02),
    released: measured(0.9, 0.03),
    tipStart: measured(2, 0.01),
    grounded: measured(3, 0.003),
  },
  measures: {
    fallFromPlacedS: measured(2.5, 0.02),
    fallFromReleasedS: measured(2.1, 0.03),
    bounceM: measured(0.01, 0.003),
  },
  moved: true,
  frames: { ptsS, boardAngleDeg: sampleRide.frames.boardAngleDeg },
  notes: [],
}
