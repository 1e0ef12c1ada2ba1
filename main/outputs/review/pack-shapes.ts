import { z } from 'zod'
import type { Ride } from '../../../analysis/ride/ride.ts'
import type { RidePictureRecord } from '../../contract/rides.ts'
import { PACK_FORMAT, type PackInfo, PACK_LIMITS } from './pack-files.ts'

/**
 * What the parts of a pack must be like before anything is computed from them or shown. What is not named here is kept
 * where it is and passed over.
 */
const number = z.number()
const short = z.string().max(200)
const sentence = z.string().max(2000)
const list = <T>(of: z.ZodType<T>) => z.array(of).max(PACK_LIMITS.frames)
const estimate = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('measured'), value: number, sd: number, ci95: z.tuple([number, number]) }),
  z.object({ kind: z.literal('atLeast'), value: number }),
  z.object({ kind: z.literal('withheld'), reason: short, detail: sentence }),
])
const estimates = <Name extends string>(names: readonly Name[]) =>
  z.object(Object.fromEntries(names.map((name) => [name, estimate])) as Record<Name, typeof estimate>)
const zone = { verdict: z.enum(['touched', 'missed', 'unsure']), first: estimate, last: estimate, clearanceM: estimate }
const hash = z.string().regex(/^[0-9a-f]{64}$/)

export const packShape: z.ZodType<PackInfo> = z.looseObject({
  format: z.literal(PACK_FORMAT),
  packId: z.string().regex(/^[0-9a-f-]{36}$/),
  rideId: z.string().min(1).max(64),
  madeAt: z.string().max(40),
  program: z.looseObject({ version: short }),
  handler: z.looseObject({ id: z.string().regex(/^[0-9a-f]{16}$/), name: z.string().max(80) }),
  dogName: z.string().max(80),
  title: z.string().max(200),
  film: z.looseObject({
    firstElement: number.int().min(0).max(PACK_LIMITS.frames),
    lastElement: number.int().min(0).max(PACK_LIMITS.frames),
    widthPx: number.int().min(2).max(20_000),
    heightPx: number.int().min(2).max(20_000),
  }),
  files: z.record(z.string().max(40), hash),
})

const rideShape = z.looseObject({
  schema: z.literal('tiphold.ride/1'),
  program: z.looseObject({ version: short }),
  clip: z.looseObject({
    fileName: z.string().max(300),
    sha256: short,
    widthPx: number,
    heightPx: number,
    rotationDeg: number,
    frameCount: number,
    durationS: number,
    captureRateHz: number,
    slowMotionFactor: number.positive(),
    slowMotionEvidence: sentence,
  }),
  events: estimates(['firstOn', 'tipStart', 'grounded', 'settled', 'left', 'bangHeard']),
  measures: estimates([
    'leadPawAtTipM',
    'bodyAtTipM',
    'dropTimeS',
    'holdBeforeGroundS',
    'stayAfterGroundS',
    'leavingMarginS',
    'entrySpeedMps',
    'climbSpeedMps',
    'bounceM',
  ]).extend({
    strideM: estimate.exactOptional(),
    entryAngleDeg: estimate.exactOptional(),
    entryOffsetM: estimate.exactOptional(),
    baseShiftM: estimate.exactOptional(),
    baseLiftM: estimate.exactOptional(),
    pauses: z.array(z.object({ fromS: number, toS: number, bodyM: number })).max(200),
    turnedBack: z.boolean(),
  }),
  zones: z.object({
    up: z.object(zone),
    down: z.object({ ...zone, touchedAfterGround: z.enum(['yes', 'no', 'unsure']) }),
  }),
  leaving: z.object({ verdict: z.enum(['after-ground', 'before-ground', 'before-tip', 'too-close', 'not-seen']) }),
  footfalls: z
    .array(
      z.object({
        alongM: number,
        fromS: number,
        toS: number,
        limb: z.enum(['front', 'hind', 'unknown']),
        confidence: number,
      }),
    )
    .max(2000),
  frames: z.object({
    ptsS: list(number),
    boardAngleDeg: list(number.nullable()),
    leadPawM: list(number.nullable()),
    rearPawM: list(number.nullable()),
    bodyM: list(number.nullable()),
  }),
  notes: z.array(sentence).max(100),
})

const positive = number.positive().max(20)
const pictureShape = z.looseObject({
  board: z.looseObject({ lengthM: positive, widthM: positive, pivotHeightM: positive, contactM: positive }),
  pose: z.looseObject(
    Object.fromEntries(
      [
        ...['focalPx', 'principalXPx', 'principalYPx', 'distortion', 'yawRad', 'pitchRad', 'rollRad'],
        ...['rightM', 'heightM', 'distanceM', 'restAngleRad', 'groundedAngleRad', 'axisBelowTopM', 'thicknessM'],
      ].map((name) => [name, number]),
    ),
  ),
  exitSide: z.union([z.literal(1), z.literal(-1)]),
  misfitPx: number,
  frameIndex: list(number.int().min(0)),
  angleRad: list(number.nullable()),
  cameraMotion: list(z.array(number).length(9).nullable()),
  outlines: list(z.array(number).max(4000).nullable()).optional(),
  sound: z.object({ startS: number, rateHz: number.positive(), level: z.array(number).max(1_000_000) }).nullable(),
})

/** A ride as in `ride.json`; null where it is none. */
export function rideIn(value: unknown): Ride | null {
  const parsed = rideShape.safeParse(value)
  if (!parsed.success) return null
  const { frames } = parsed.data
  const sameLength = Object.values(frames).every((one) => one.length === frames.ptsS.length)
  const rising = frames.ptsS.every((s, k) => k === 0 || s > frames.ptsS[k - 1]!)
  // The reasons of withheld values are words of ours; a newer one is shown by its sentence.
  return sameLength && rising && frames.ptsS.length > 0 ? (parsed.data as unknown as Ride) : null
}

/** Where the board stood in the frames of a film; null where it does not say, or says it of other frames. */
export function pictureIn(value: unknown, frames: number): RidePictureRecord | null {
  const parsed = pictureShape.safeParse(value)
  if (!parsed.success) return null
  const { frameIndex, angleRad, cameraMotion, outlines } = parsed.data
  const lengths = [frameIndex, angleRad, cameraMotion, ...(outlines === undefined ? [] : [outlines])]
  const even = outlines?.every((outline) => outline === null || outline.length % 2 === 0) ?? true
  if (lengths.some((one) => one.length !== frames) || !even) return null
  return parsed.data as unknown as RidePictureRecord
}
