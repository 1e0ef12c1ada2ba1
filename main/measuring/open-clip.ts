import type { Board } from '../../analysis/board/board.ts'
import type { Marks } from '../../analysis/board/marks.ts'
import { BoardFollower } from '../../analysis/scene/follow-board.ts'
import { calibrate } from '../../analysis/calibration/calibrate.ts'
import { edgeSightings } from '../../analysis/scene/edge-sightings.ts'
import { marksInRestFrame } from '../../analysis/calibration/in-one-frame.ts'
import { refineCalibration } from '../../analysis/calibration/refine-calibration.ts'
import type { Calibration, SeesawCamera } from '../../analysis/calibration/seesaw-camera.ts'
import { damagedSpans, type DamagedSpan } from '../../analysis/clip/damage.ts'
import type { Frame, View } from '../../analysis/clip/frame.ts'
import { viewFor } from '../../analysis/clip/view.ts'
import { entryEndXM } from '../../analysis/approach/approach-grids.ts'
import { learnScene, sweptRegion, type Scene } from '../../analysis/scene/learn-scene.ts'
import {
  busyStretches,
  seesawCameraFollower,
  Watch,
  type BusyStretch,
  type KeptFrame,
} from '../../analysis/scene/watch.ts'
import { chooseFfmpeg } from '../film/engines/ffmpeg-choice.ts'
import { ClipProblem } from '../film/media/clip-problem.ts'
import { probeClip } from '../film/media/probe-clip.ts'
import type { MediaFfmpeg, ProbedClip } from '../film/media/probed-clip.ts'
import { readStill } from '../film/media/read-stills.ts'
import { streamFrames } from '../film/media/stream-frames.ts'
import type { OnProgress } from './measured-ride.ts'

/** A clip with its seesaw found, calibrated and learnt: all that is needed to follow board and dog. */
export interface OpenedClip {
  readonly clip: ProbedClip
  readonly ffmpeg: MediaFfmpeg
  readonly slowMotionFactor: number
  readonly calibration: Calibration
  /** The frame of the rest marks, at the analysis scale. */
  readonly reference: Frame
  readonly scene: Scene
  /** What to decode for following. */
  readonly view: View
  /** The part to measure, s of real time. */
  readonly part: BusyStretch
  /** When something happens at the seesaw in it, s of real time. */
  readonly busyTimesS: readonly number[]
  /** The handler has chosen the part: all of it is measured. */
  readonly isPartChosen: boolean
  /** Where the scan met damaged pictures. */
  readonly damagedS: readonly DamagedSpan[]
}

export interface OpenRequest {
  readonly clipPath: string
  readonly marks: Marks
  readonly board: Board
  /** Capture rate / stored rate, once the file is known. */
  readonly slowMotionFor: (clip: ProbedClip) => number
  readonly fromS?: number
  readonly toS?: number
  /** The same by frames, both included, display order; overrides `fromS` and `toS`. */
  readonly stretch?: { readonly fromFrame: number; readonly toFrame: number }
  readonly signal: AbortSignal
  readonly onProgress: OnProgress
}

/** The marks do not fit the clip; the message says which and what to do. */
export class BadMarks extends Error {}

/** Fewer sound pictures than this tell nothing about what stands behind the plank. */
const LEAST_STILLS = 4
/** The plank is followed at this length in decoded px at most. */
const PLANK_PX = 820
/** Pictures looked at to learn the scene, per s of real time, and at least so many in a clip. */
const SCAN_HZ = 4
const LEAST_SCANS = 36
/** A clip up to this long is measured whole; in a longer one only busy stretches are, s. */
const SHORT_S = 12
/** How far above the plank the background is learnt, m. */
const HEIGHT_M = 0.5

/** Reads the clip once, quickly: calibrates the camera, learns the scene, finds the stretches worth measuring. */
export async function openClip(request: OpenRequest): Promise<OpenedClip> {
  const { marks, board, signal, onProgress } = request
  const ffmpeg = await chooseFfmpeg()
  onProgress({ step: 'reading', doing: 'reading the clip', framesDone: 0, framesTotal: 0 })
  const clip = await probeClip(request.clipPath, ffmpeg, signal)
  const { video } = clip
  const slowMotionFactor = request.slowMotionFor(clip)
  const within = partToMeasure(request, video.fileTimesS, slowMotionFactor)
  checkRate(clip, slowMotionFactor)
  checkFrames(marks, clip)
  const plankPx = Math.hypot(
    marks.rest.exitEnd.xPx - marks.rest.entryEnd.xPx,
    marks.rest.exitEnd.yPx - marks.rest.entryEnd.yPx,
  )
  const whole = viewFor(video, undefined, Math.min(1, PLANK_PX / plankPx))
  const still = async (index: number): Promise<Frame> => {
    const frame = await readStill(clip, ffmpeg, index, { slowMotionFactor, view: whole, signal })
    if (frame !== null && frame.isDamaged !== true) return frame
    throw new BadMarks(
      `Frame ${index} of the marks is damaged in the file: copy the clip from the phone again, or mark another frame.`,
    )
  }
  const reference = await still(marks.rest.frame)
  const rough = calibrated(board, { clip: marks.clip, rest: marks.rest }, video)
  const follower = seesawCameraFollower(reference, rough.best, video)

  // The scan: few frames, cheaply decoded, over the part to measure.
  const durationS = lengthOf(within, video.fileDurationS / slowMotionFactor)
  const scanHz = Math.max(SCAN_HZ, LEAST_SCANS / durationS)
  const watch = new Watch(reference, rough.best, follower)
  const toScan = Math.ceil(durationS * scanHz)
  let scanned = 0
  const scan: { readonly ptsS: number; readonly isDamaged: boolean }[] = []
  for await (const frame of streamFrames(clip, ffmpeg, {
    ...within,
    slowMotionFactor,
    view: whole,
    depth: durationS > SHORT_S ? 'references' : 'all',
    atMostHz: scanHz,
    signal,
  })) {
    watch.add(frame)
    scan.push({ ptsS: frame.ptsS, isDamaged: frame.isDamaged === true })
    onProgress({
      step: 'looking',
      doing: 'looking through the clip',
      framesDone: ++scanned,
      framesTotal: Math.max(toScan, scanned),
    })
  }
  const stills = watch.stills()
  if (stills.length < LEAST_STILLS && scan.some((seen) => seen.isDamaged)) throw tooDamaged(clip.fileName)
  const inOneFrame = await carryMarks(marks, stills, follower, still)
  const first = calibrated(board, inOneFrame ?? marks, video, inOneFrame === null ? undefined : CARRIED_SD_PX)
  const { calibration, scene } = refined(first, reference, stills)
  const camera = calibration.best
  return {
    clip,
    ffmpeg,
    slowMotionFactor,
    calibration,
    reference,
    scene,
    view: followingView(camera, whole, watch, video),
    part: { fromS: within.fromS ?? 0, toS: within.toS ?? video.fileDurationS / slowMotionFactor },
    busyTimesS: watch.busyTimesS,
    isPartChosen: within.fromS !== undefined || within.toS !== undefined,
    damagedS: damagedSpans(
      Float64Array.from(scan, (seen) => seen.ptsS),
      Uint8Array.from(scan, (seen) => (seen.isDamaged ? 1 : 0)),
    ),
  }
}

/** The stretches of an opened clip that are worth measuring. */
export function stretchesOf({ part, busyTimesS, isPartChosen }: OpenedClip): readonly BusyStretch[] {
  return isPartChosen || part.toS - part.fromS <= SHORT_S ? [part] : busyStretches(busyTimesS)
}

/** The same clip on the timeline of another slow-motion factor: what was learnt from its pictures stays. */
export function onTimelineOf(slowMotionFactor: number, opened: OpenedClip): OpenedClip {
  const share = opened.slowMotionFactor / slowMotionFactor
  const scaled = <T extends BusyStretch | DamagedSpan>(span: T): T => ({
    ...span,
    fromS: span.fromS * share,
    toS: span.toS * share,
  })
  const stamped = (frame: Frame): Frame => ({ ...frame, ptsS: frame.ptsS * share })
  const { scene } = opened
  return {
    ...opened,
    slowMotionFactor,
    reference: stamped(opened.reference),
    scene: { ...scene, stills: scene.stills.map((still) => ({ ...still, frame: stamped(still.frame) })) },
    part: scaled(opened.part),
    busyTimesS: opened.busyTimesS.map((atS) => atS * share),
    damagedS: opened.damagedS.map(scaled),
  }
}

/** Nothing can be measured on what is left of a clip. */
export function tooDamaged(fileName: string): ClipProblem {
  return new ClipProblem(
    'damaged',
    `${fileName} is damaged, and too little of it is left to measure: copy it from the phone again.`,
  )
}

/** The part of the clip to measure, s of real time; open ends are left out. */
function partToMeasure(
  { fromS, toS, stretch }: OpenRequest,
  fileTimesS: Float64Array,
  slowMotionFactor: number,
): { fromS?: number; toS?: number } {
  if (stretch === undefined) return { ...(fromS === undefined ? {} : { fromS }), ...(toS === undefined ? {} : { toS }) }
  const lastS = fileTimesS.at(-1) ?? 0
  const atS = (frame: number) => (fileTimesS[frame] ?? lastS) / slowMotionFactor
  return { fromS: atS(stretch.fromFrame), toS: atS(stretch.toFrame) }
}

/** A paw stands for a fifth of a second: fewer pictures a second of real time show nothing of a ride. */
const LEAST_RATE_HZ = 5

function checkRate({ fileName, video }: ProbedClip, slowMotionFactor: number): void {
  const rateHz = video.averageRateHz * slowMotionFactor
  if (rateHz >= LEAST_RATE_HZ) return
  throw new ClipProblem(
    'too-few-pictures',
    `${fileName} has ${rateHz.toPrecision(2)} frames per second, too few to measure: film at 25 or more.`,
  )
}

/** How long a part of the clip is, s. */
function lengthOf({ fromS = 0, toS = Infinity }: { fromS?: number; toS?: number }, clipS: number): number {
  return Math.max(0, Math.min(toS, clipS) - fromS)
}

function checkFrames(marks: Marks, clip: ProbedClip): void {
  const count = clip.video.fileTimesS.length
  for (const index of [marks.rest.frame, marks.grounded?.frame ?? 0]) {
    if (index >= count) {
      if (clip.notes.length > 0) throw tooDamaged(clip.fileName)
      throw new BadMarks(
        `The marks name frame ${index}, but ${clip.fileName} has ${count} frames (0 to ${count - 1}): are they marks of another clip?`,
      )
    }
  }
}

function calibrated(
  board: Board,
  marks: Marks,
  picture: { widthPx: number; heightPx: number },
  groundedShiftSdPx?: number,
): Calibration {
  const outcome = calibrate(board, marks, picture, groundedShiftSdPx === undefined ? {} : { groundedShiftSdPx })
  if (outcome.kind === 'impossible') throw new BadMarks(outcome.reason)
  return outcome.calibration
}

/** How well the grounded marks are carried to the rest marks' frame, 1 sd, px. */
const CARRIED_SD_PX = 1

/** The grounded marks in the rest marks' frame, as the camera may have moved in between; null when that cannot be told. */
async function carryMarks(
  marks: Marks,
  stills: readonly KeptFrame[],
  follower: ReturnType<typeof seesawCameraFollower>,
  still: (index: number) => Promise<Frame>,
): Promise<Marks | null> {
  if (marks.grounded === undefined) return null
  const index = marks.grounded.frame
  const near = stills.reduce<KeptFrame | null>(
    (a, b) => (a === null || Math.abs(b.frame.index - index) < Math.abs(a.frame.index - index) ? b : a),
    null,
  )
  if (near !== null) follower.startFrom(near.motion.frameFromReference)
  const motion = follower.follow(await still(index))
  return motion === null ? null : marksInRestFrame(marks, motion.frameFromReference)
}

/** Learns the scene, sharpens the calibration with the plank's edges in the stills, and learns the scene anew. */
function refined(
  first: Calibration,
  reference: Frame,
  stills: readonly KeptFrame[],
): { calibration: Calibration; scene: Scene } {
  const scene = learnScene(first.best, reference, stills, HEIGHT_M)
  const follower = new BoardFollower(first.best, scene.background, scene.appearance, scene.pxM, 0.5 * scene.pxM)
  const camera = first.best
  const frames = scene.stills.flatMap((s, k) => {
    if (s.angleRad === null) return []
    const sight = follower.find(stills[k]!.frame, stills[k]!.motion, [s.angleRad], true)
    if (sight === null || sight.agreed < 0.5) return []
    const near = (angle: number) => Math.abs(sight.angleRad - angle) < 0.006
    const state = near(camera.restAngleRad) ? 'rest' : near(camera.groundedAngleRad) ? 'grounded' : 'moving'
    return [edgeSightings(camera, sight, state)]
  })
  const calibration = refineCalibration(first, thinned(frames))
  return { calibration, scene: learnScene(calibration.best, reference, stills, HEIGHT_M) }
}

/** Few frames of each state tell as much as many. */
function thinned<T extends { board: string }>(frames: readonly T[]): T[] {
  const some = (state: string, count: number) => {
    const own = frames.filter((f) => f.board === state)
    return own.filter((_, i) => Math.floor((i * count) / own.length) !== Math.floor(((i - 1) * count) / own.length))
  }
  return [...some('rest', 5), ...some('grounded', 5), ...some('moving', 12)]
}

/** The run up that is followed: as much of the ground before the entry end, and so high over it, m. */
const APPROACH_M = { ahead: -1.65, height: 0.7 }

/** Plank, dog and enough around them to follow the camera, at the scan's scale. */
function followingView(
  camera: SeesawCamera,
  whole: View,
  watch: Watch,
  picture: { widthPx: number; heightPx: number },
): View {
  const region = sweptRegion(camera, HEIGHT_M)
  const reach = watch.reachPx([
    { xPx: region.x0Px, yPx: region.y0Px },
    { xPx: region.x1Px, yPx: region.y1Px },
  ])
  const margin = reach + 0.06 * (region.x1Px - region.x0Px)
  const xM = entryEndXM(camera) + APPROACH_M.ahead
  const runUp = [0, APPROACH_M.height].map((yM) => camera.imageFromWorld({ xM, yM, acrossM: camera.widthM / 2 }))
  const x0Px = Math.min(region.x0Px - margin, ...runUp.map(({ xPx }) => xPx - reach))
  const x1Px = Math.max(region.x1Px + margin, ...runUp.map(({ xPx }) => xPx + reach))
  const y0Px = Math.min(region.y0Px - margin, ...runUp.map(({ yPx }) => yPx - reach))
  const y1Px = Math.max(region.y1Px + margin, ...runUp.map(({ yPx }) => yPx + reach))
  return viewFor(picture, { xPx: x0Px, yPx: y0Px, widthPx: x1Px - x0Px, heightPx: y1Px - y0Px }, whole.scale)
}
