import type { Vec3 } from './world/vector.ts'

/** Linear-light colour, each part from 0 to 1. */
export type Colour = readonly [number, number, number]

/** All that a clip is made from. The same scenario always makes the same clip. */
export interface Scenario {
  readonly name: string
  readonly description: string
  readonly seed: number
  readonly durationS: number
  readonly board: BoardSpec
  readonly action: RideAction | DropAction
  readonly camera: CameraSpec
  readonly field: FieldSpec
  readonly sound: SoundSpec
}

export interface BoardSpec {
  readonly lengthM: number
  readonly widthM: number
  /** Top surface over the ground at mid length, plank level. */
  readonly pivotHeightM: number
  readonly contactM: number
  readonly thicknessM: number
  readonly axisBelowTopM: number
  readonly material: 'wood' | 'aluminium'
  /** Of the board alone, about its axis. */
  readonly inertiaKgM2: number
  /** Torque that holds the entry end down with the plank level; acts as bias x cos(angle). */
  readonly biasTorqueNm: number
  readonly viscousNms: number
  readonly coulombNm: number
  /** Speed kept, with opposite sign, when an end hits hard ground. */
  readonly restitution: number
  /** How far the exit end bends down under 1 N on it while the other half is held, m; 0 for a rigid plank. */
  readonly bendMPerN: number
  /** Stiffness of yielding ground under the exit end, N/m; absent for hard ground. */
  readonly groundStiffnessNPerM?: number
  readonly middleColour: Colour
  readonly zoneColour: Colour
  readonly baseColour: Colour
  /** The base is pushed along the ground by `byM` at `atS`, and the plank with it; absent: it stands. */
  readonly baseSlide?: { readonly atS: number; readonly byM: number }
}

export type Ending =
  /** Waits at the end until the board has landed, then walks off. */
  | { readonly kind: 'hold'; readonly leadFromEndM: number; readonly waitS: number }
  /** Leaps off over the end as soon as the board has turned this far, deg from rest. */
  | { readonly kind: 'fly-off'; readonly afterTurnDeg: number }
  /** Stops with the lead paw short of the down contact, leaps over the zone this long after the landing. */
  | { readonly kind: 'leap-zone'; readonly leadFromEndM: number; readonly waitS: number }
  /** Jumps off to the side before the board tips. */
  | { readonly kind: 'bail-off'; readonly atM: number; readonly side: 1 | -1 }
  /** Keeps going; the board lands under the moving dog. */
  | { readonly kind: 'run-through' }

export interface RideAction {
  readonly kind: 'ride'
  readonly dog: DogSpec
  readonly handler: HandlerSpec | null
  /** When the dog begins to move, and where its body centre is then (along, negative before the plank). */
  readonly startS: number
  readonly startAlongM: number
  readonly approachMps: number
  readonly climbMps: number
  readonly tipMps: number
  /** Stops on the plank: where the body centre rests, and how long. */
  readonly pauses: readonly { readonly atM: number; readonly forS: number }[]
  readonly ending: Ending
  readonly leaveMps: number
  /** Gallops when fast, instead of trotting. */
  readonly gallops: boolean
  /** Comes from aside; absent: straight along the plank's middle line. */
  readonly approach?: ApproachSpec
}

/** The line that a dog comes along, seen from above. */
export interface ApproachSpec {
  /** Turned from the plank's axis, deg; positive comes from +z. */
  readonly angleDeg: number
  /** Where it meets the entry end, z, m. */
  readonly offsetM: number
}

export interface DogSpec {
  readonly massKg: number
  /** Height of the withers. */
  readonly heightM: number
  /** 1 for a square dog; 1.4 for a long, low one. */
  readonly bodyLength: number
  /** 1 for ordinary legs; 0.75 for short ones under the same withers. */
  readonly legLength: number
  /** Girth of the trunk, 1 ordinary. */
  readonly girth: number
  readonly muzzle: number
  readonly ears: 'prick' | 'drop' | 'half'
  readonly tail: 'plume' | 'whip' | 'curl' | 'docked'
  /** Length of the hair over the skin, as a part of the withers' height. */
  readonly hair: number
  readonly coat: Coat
}

export interface Coat {
  readonly main: Colour
  readonly second: Colour
  readonly white: Colour
  readonly pattern: 'plain' | 'bordered' | 'saddle' | 'patched' | 'merle' | 'masked'
  /** How far white reaches up the legs, 0 none to 1 all. */
  readonly socks: number
}

export interface HandlerSpec {
  /** Where the handler walks: z of the lane, on the camera's side or behind the plank. */
  readonly laneM: number
  /** How far ahead of the dog's body centre the handler tries to be; negative behind. */
  readonly leadM: number
  readonly person: PersonSpec
}

export interface PersonSpec {
  readonly heightM: number
  readonly jacket: Colour
  readonly trousers: Colour
  readonly skin: Colour
  readonly hair: Colour
  readonly cap: Colour | null
}

export interface DropAction {
  readonly kind: 'dropTest'
  readonly weightKg: number
  /** Middle of the weight from the entry end. */
  readonly weightAlongM: number
  readonly placedS: number
  readonly releasedS: number
  readonly reach: 'hand' | 'pole'
  readonly person: PersonSpec
  readonly weightColour: Colour
}

export interface CameraSpec {
  readonly widthPx: number
  readonly heightPx: number
  readonly captureHz: number
  /** Rate of the stored file; smaller than the capture rate for slow motion. */
  readonly fileHz: number
  /** Frames come up to 0.3 of a frame early or late, as phones record them. */
  readonly variableRate: boolean
  /** Stored turned by a quarter, with the container's rotation flag. */
  readonly turned: boolean
  /** Which side the camera stands on: +1 sees travel from left to right. */
  readonly side: 1 | -1
  /** Horizontal distance from below the pivot, and turn away from side-on, positive towards the exit end. */
  readonly distanceM: number
  readonly yawDeg: number
  readonly heightM: number
  readonly lookAt: Vec3
  /** Turned clockwise about its own axis, deg; level when absent. */
  readonly rollDeg?: number
  /** Camera and aim moved along the board's direction, m: for a board that is put elsewhere before a tripod that stays. */
  readonly alongM?: number
  /** 36 mm along the long side. */
  readonly focalMmEquivalent: number
  readonly distortionK: number
  /** Standard deviation of the handheld wander in the picture, px; 0 on a tripod. */
  readonly shakePx: number
  /** How much of the dog's movement the camera follows, 0 none. */
  readonly follow: number
  readonly exposureS: number
  readonly rollingShutterS: number
  /** Sensor noise at mid grey, in parts of full scale. */
  readonly noise: number
  /** Relative standard deviation of the brightness from frame to frame. */
  readonly flicker: number
  readonly blurPx: number
  readonly crf: number
}

export interface FieldSpec {
  readonly ground: 'grass' | 'sand' | 'matting'
  readonly sky: 'fair' | 'cloudy' | 'evening'
  /** Share of the light that comes from the sun, 0 overcast to 0.65 hard sun. */
  readonly sunShare: number
  readonly sunAzimuthDeg: number
  readonly sunHeightDeg: number
  readonly bystanders: number
  readonly backdrop: 'hedge' | 'trees' | 'hall'
  /** Everything but the seesaw moved along the board's direction, m. */
  readonly alongM?: number
  /** How fast the clouds go, in cells of their pattern a second. */
  readonly cloudDrift: number
}

export interface SoundSpec {
  readonly present: boolean
  readonly windLevel: number
  readonly others: readonly {
    readonly kind: 'bark' | 'clap' | 'voice' | 'thud'
    readonly atS: number
    readonly distanceM: number
  }[]
}
