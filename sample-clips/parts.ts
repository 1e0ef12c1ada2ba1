import type { BoardSpec, CameraSpec, Coat, Colour, DogSpec, FieldSpec, PersonSpec, SoundSpec } from './scenario.ts'

/** Ordinary boards, dogs, people, cameras and fields, to be varied by those who compose a scenario. */

const BLUE: Colour = [0.05, 0.16, 0.42]
export const YELLOW: Colour = [0.68, 0.45, 0.04]
export const RED: Colour = [0.48, 0.05, 0.04]
export const WHITE: Colour = [0.68, 0.68, 0.66]
export const GREEN: Colour = [0.07, 0.26, 0.13]
const STEEL: Colour = [0.16, 0.17, 0.18]

/** A board of full size with the balance of common rules: 1 kg lowers it in two to three seconds. */
export const FULL_BOARD: BoardSpec = {
  lengthM: 3.66,
  widthM: 0.3,
  pivotHeightM: 0.61,
  contactM: 0.91,
  thicknessM: 0.04,
  axisBelowTopM: 0.05,
  material: 'aluminium',
  inertiaKgM2: 17,
  biasTorqueNm: 7.4,
  viscousNms: 1.5,
  coulombNm: 1,
  restitution: 0.22,
  bendMPerN: 0,
  middleColour: BLUE,
  zoneColour: YELLOW,
  baseColour: STEEL,
}

export const BLACK_AND_WHITE: Coat = {
  main: [0.022, 0.02, 0.02],
  second: [0.2, 0.1, 0.04],
  white: [0.62, 0.6, 0.57],
  pattern: 'bordered',
  socks: 0.45,
}

/** A middle-sized herding dog. */
export const HERDER: DogSpec = {
  massKg: 17,
  heightM: 0.5,
  bodyLength: 1.06,
  legLength: 1,
  girth: 0.95,
  muzzle: 1,
  ears: 'half',
  tail: 'plume',
  hair: 0.018,
  coat: BLACK_AND_WHITE,
}

export const HELPER_IN_RED: PersonSpec = {
  heightM: 1.7,
  jacket: [0.32, 0.05, 0.06],
  trousers: [0.06, 0.07, 0.12],
  skin: [0.55, 0.36, 0.26],
  hair: [0.12, 0.07, 0.03],
  cap: null,
}

/** A phone on a tripod, side-on, 30 frames a second. */
export const TRIPOD: CameraSpec = {
  widthPx: 960,
  heightPx: 540,
  captureHz: 30,
  fileHz: 30,
  variableRate: false,
  turned: false,
  side: 1,
  distanceM: 6,
  yawDeg: 6,
  heightM: 1.15,
  lookAt: [0.05, 0.62, 0],
  focalMmEquivalent: 34,
  distortionK: 0,
  shakePx: 0,
  follow: 0,
  exposureS: 1 / 250,
  rollingShutterS: 0,
  noise: 0.008,
  flicker: 0,
  blurPx: 0.5,
  crf: 27,
}

export const MEADOW: FieldSpec = {
  ground: 'grass',
  sky: 'fair',
  sunShare: 0.5,
  sunAzimuthDeg: -35,
  sunHeightDeg: 48,
  bystanders: 0,
  backdrop: 'hedge',
  cloudDrift: 0.35,
}

export const QUIET: SoundSpec = { present: true, windLevel: 0.3, others: [] }
