import { measureApproach, type ApproachMeasures } from '../../analysis/approach/approach.ts'
import { looksLikeDrop } from '../../analysis/drop/looks-like-drop.ts'
import { testMassAlongM, USUAL_PLACE } from '../../analysis/rules/rule-sets.ts'
import type { Board } from '../../analysis/board/board.ts'
import type { BoardTrack } from '../../analysis/board/board-track.ts'
import type { ClipInfo, ClipOrigins } from '../../analysis/clip/frame.ts'
import { slowMotionFromPace, type SlowMotion } from '../../analysis/clip/slow-motion.ts'
import type { DogTrack } from '../../analysis/dog/dog-track.ts'
import type { Estimate } from '../../analysis/estimate.ts'
import { followDog } from '../../analysis/dog/follow-dog.ts'
import { withoutDamagedParts } from '../../analysis/dog/damaged-dog.ts'
import { pawPicture } from '../../analysis/dog/paw-picture.ts'
import { dogOnFrames } from '../../analysis/dog/on-frames.ts'
import { findBoardEvents } from '../../analysis/ride/board-events.ts'
import { rideFrom } from '../../analysis/ride/measure-ride.ts'
import { contactEstimate } from '../../analysis/ride/ride-events.ts'
import { restsOf } from '../../analysis/ride/rests.ts'
import { baseShift } from '../../analysis/follow/base-shift.ts'
import type { PlankFilmMaker } from '../../analysis/follow/plank-film-maker.ts'
import type { BusyStretch } from '../../analysis/scene/watch.ts'
import { outlinesOnFrames } from '../../analysis/silhouette/on-frames.ts'
import { findBang, type BangResult } from '../../analysis/sound/bang.ts'
import { soundEnvelope } from '../../analysis/sound/envelope.ts'
import type { Sound } from '../../analysis/sound/sound.ts'
import { NoFfmpegError } from '../film/engines/ffmpeg-choice.ts'
import { openPawNetwork } from './network/open-paw-network.ts'
import { programVersion } from '../program-version.ts'
import { ClipProblem } from '../film/media/clip-problem.ts'
import { readSound } from '../film/media/read-sound.ts'
import { angleUncertainty } from './angle-uncertainty.ts'
import { followStretch } from './follow-stretch.ts'
import type { ClipOutcome, Failure, MeasureClipRequest, MeasuredRide, SoundEnvelope } from './measured-ride.ts'
import { damageNotes } from './damage-notes.ts'
import { originNotes } from './origin-notes.ts'
import { slowMotionOf } from './slow-motion-of.ts'
import { BadMarks, onTimelineOf, openClip, type OpenedClip, stretchesOf, tooDamaged } from './open-clip.ts'

/** Measures every ride in a clip. Throws the signal's reason when cancelled; bad footage and marks are outcomes. */
export async function measureClip(request: MeasureClipRequest): Promise<ClipOutcome> {
  try {
    if (request.slowMotion !== undefined) {
      const given = { factor: request.slowMotion, evidence: 'Given by the user.', isSure: true }
      return await measureAt(request, () => given, null)
    }
    return await measureAt(request, slowMotionOf, (used, seen, said) => slowMotionFromPace(used, seen, said))
  } catch (error) {
    return failureOf(error)
  }
}

/** Bad marks and unreadable clips as outcomes; anything else, a cancellation too, is thrown on. */
export function failureOf(error: unknown): Failure {
  if (error instanceof BadMarks) return { kind: 'bad-marks', detail: error.message }
  if (error instanceof ClipProblem || error instanceof NoFfmpegError)
    return { kind: 'unreadable', detail: error.message }
  throw error
}

async function measureAt(
  request: MeasureClipRequest,
  slowMotionFor: (clip: OpenedClip['clip']) => SlowMotion,
  check: typeof slowMotionFromPace | null,
): Promise<ClipOutcome> {
  const opened = await openClip({ ...request, slowMotionFor: (clip) => slowMotionFor(clip).factor })
  const said = slowMotionFor(opened.clip)
  const followed = await followAll(opened, request)
  const rides = await ridesOfAll(opened, followed, said, request)
  if (rides.length === 0) {
    if (opened.clip.notes.length + opened.damagedS.length > 0) throw tooDamaged(opened.clip.fileName)
    if (isDropTest(opened, followed, request.board)) {
      return {
        kind: 'nothing',
        detail:
          'No dog was found, but a weight was laid on the board and it came down: this looks like a drop test (on the command line: droptest).',
        looksLikeDropTest: true,
      }
    }
    return {
      kind: 'nothing',
      detail:
        'The clip was read, but no dog was found on the plank: check that the marks belong to this clip and that the plank is in the picture. If it is a drop test, say so in its set-up (on the command line: droptest).',
    }
  }
  if (check !== null) {
    const pace = paceOf(rides[0]!)
    const better = check(said.factor, pace, said)
    if (better.factor !== said.factor) return measured(opened, await measuredAt(better, opened, followed, request))
  }
  return measured(opened, rides)
}

function isDropTest({ calibration }: OpenedClip, followed: readonly Followed[], board: Board): boolean {
  const { commonSdRad, scaleSd } = angleUncertainty(calibration)
  const massAtM = testMassAlongM(USUAL_PLACE, board)
  return followed.some(({ maker }) => looksLikeDrop(maker.plankFilm(), maker.boardTrack(commonSdRad, scaleSd), massAtM))
}

function measured({ clip, ffmpeg }: OpenedClip, rides: readonly MeasuredRide[]): ClipOutcome {
  return { kind: 'measured', rides, source: { clip, ffmpeg } }
}

/** A stretch and what was followed in it. */
interface Followed {
  readonly stretch: BusyStretch
  readonly maker: PlankFilmMaker
}

async function followAll(opened: OpenedClip, { signal, onProgress }: MeasureClipRequest): Promise<Followed[]> {
  const all: Followed[] = []
  for (const stretch of stretchesOf(opened)) {
    all.push({ stretch, maker: await followStretch(opened, stretch, signal, onProgress, true) })
  }
  return all
}

async function ridesOfAll(
  opened: OpenedClip,
  followed: readonly Followed[],
  slowMotion: SlowMotion,
  request: MeasureClipRequest,
): Promise<MeasuredRide[]> {
  const rides: MeasuredRide[] = []
  for (const { maker } of followed) rides.push(...(await ridesOf(opened, maker, slowMotion, request)))
  return rides
}

/** The rides once movement has told another factor: the clip stays open, and no frame is followed twice without need. */
async function measuredAt(
  slowMotion: SlowMotion,
  before: OpenedClip,
  followed: readonly Followed[],
  request: MeasureClipRequest,
): Promise<readonly MeasuredRide[]> {
  const opened = onTimelineOf(slowMotion.factor, before)
  const share = before.slowMotionFactor / opened.slowMotionFactor
  const [one, ...others] = followed
  const [stretch] = stretchesOf(opened)
  const isSamePart =
    one !== undefined &&
    others.length === 0 &&
    stretch !== undefined &&
    Math.abs(one.stretch.fromS * share - stretch.fromS) + Math.abs(one.stretch.toS * share - stretch.toS) < 1e-6
  // On a longer timeline the dog's feet need more strips than were cut.
  if (share > 1 || !isSamePart) return ridesOfAll(opened, await followAll(opened, request), slowMotion, request)
  one.maker.shortenTime(share)
  return ridesOfAll(opened, [one], slowMotion, request)
}

function paceOf({ ride }: MeasuredRide): { dropTimeS: number | null; climbSpeedMps: number | null } {
  const { dropTimeS, climbSpeedMps } = ride.measures
  return {
    dropTimeS: dropTimeS.kind === 'measured' ? dropTimeS.value : null,
    climbSpeedMps: climbSpeedMps.kind === 'measured' ? climbSpeedMps.value : null,
  }
}

async function ridesOf(
  opened: OpenedClip,
  maker: PlankFilmMaker,
  slowMotion: SlowMotion,
  request: MeasureClipRequest,
): Promise<MeasuredRide[]> {
  const film = maker.plankFilm()
  const network = await openPawNetwork()
  const damagedS = maker.damagedS()
  const dogs = followDog(film, await network.look(pawPicture(film))).map((dog) => withoutDamagedParts(dog, damagedS))
  const { commonSdRad, scaleSd } = angleUncertainty(opened.calibration)
  const whole = maker.boardTrack(commonSdRad, scaleSd)
  const out: MeasuredRide[] = []
  for (const [k, dog] of dogs.entries()) {
    const fromS = k === 0 ? -Infinity : between(dogs[k - 1]!, dog)
    const toS = k === dogs.length - 1 ? Infinity : between(dog, dogs[k + 1]!)
    out.push(await rideOf(opened, maker, whole, dog, fromS, toS, slowMotion, request))
  }
  return out
}

/** Half-way between one dog's leaving and the next one's coming, s. */
function between(before: DogTrack, after: DogTrack): number {
  const left = Math.max(...before.footfalls.map((f) => f.toS))
  const came = Math.min(...after.footfalls.map((f) => f.fromS))
  return (left + came) / 2
}

async function rideOf(
  opened: OpenedClip,
  maker: PlankFilmMaker,
  whole: BoardTrack,
  dog: DogTrack,
  fromS: number,
  toS: number,
  slowMotion: SlowMotion,
  request: MeasureClipRequest,
): Promise<MeasuredRide> {
  const frames = maker.frames.filter((f) => f.ptsS >= fromS && f.ptsS < toS)
  const first = maker.frames.indexOf(frames[0]!)
  const track = cut(whole, first, first + frames.length)
  const onFrames = dogOnFrames(dog, track.ptsS)
  const boardEvents = findBoardEvents(track)
  const heard = await listen(opened, track, boardEvents.grounded, request)
  const ride = rideFrom({
    track,
    boardEvents,
    dog: onFrames,
    sound: heard?.bang ?? null,
    approach: approachOf(opened, maker, dog),
    baseShiftM: baseShift(maker.restLooks, restsOf(track, contactEstimate(onFrames.firstOn), boardEvents.grounded)),
    clip: clipInfo(opened, slowMotion, request.origins),
    board: request.board,
    programVersion,
    notes: [
      ...originNotes(request.origins, request.board),
      ...damageNotes(opened, maker.damagedS()),
      ...(slowMotion.isSure || slowMotion.factor === 1 ? [] : [slowMotion.evidence]),
    ],
  })
  return {
    ride,
    dog: onFrames,
    track,
    picture: {
      board: request.board,
      calibration: opened.calibration,
      frameIndex: Int32Array.from(frames, (f) => f.index),
      ptsS: track.ptsS,
      angleRad: track.angleRad,
      cameraMotion: frames.map((f) => f.motion?.frameFromReference ?? new Float64Array(9).fill(NaN)),
      outlines: outlinesOnFrames(maker.outlines(dog), dog.ptsS, track.ptsS),
      sound: heard === null ? null : envelopeOf(heard.sound, track.ptsS),
    },
  }
}

function approachOf({ calibration, scene }: OpenedClip, maker: PlankFilmMaker, dog: DogTrack): ApproachMeasures {
  const { best, draws } = calibration
  const { looks, grids } = maker.approach
  return measureApproach({
    looks,
    grids,
    likeness: maker.likeness(dog),
    dog,
    camera: best,
    draws,
    scale: scene.background.scale,
  })
}

function cut(track: BoardTrack, from: number, to: number): BoardTrack {
  return {
    ...track,
    ptsS: track.ptsS.slice(from, to),
    angleRad: track.angleRad.slice(from, to),
    sdRad: track.sdRad.slice(from, to),
    seen: track.seen.slice(from, to),
  }
}

/** The sound of the ride, and the landing in it when the board was seen to land. */
async function listen(
  opened: OpenedClip,
  track: BoardTrack,
  grounded: Estimate,
  request: MeasureClipRequest,
): Promise<{ sound: Sound; bang: BangResult | null } | null> {
  const { clip, ffmpeg, slowMotionFactor, calibration } = opened
  const sound = await readSound(clip, ffmpeg, {
    fromS: track.ptsS[0]! - 1,
    toS: track.ptsS[track.ptsS.length - 1]! + 1,
    slowMotionFactor,
    signal: request.signal,
  })
  if (sound === null) return null
  if (grounded.kind !== 'measured') return { sound, bang: null }
  const distances = calibration.draws.map((camera) => camera.distanceToLandingM)
  const distanceM = calibration.best.distanceToLandingM
  const sdM = Math.sqrt(distances.reduce((sum, d) => sum + (d - distanceM) ** 2, 0) / distances.length)
  const { materialWord } = request.board
  const frameS = (track.ptsS[track.ptsS.length - 1]! - track.ptsS[0]!) / Math.max(1, track.ptsS.length - 1)
  const bang = findBang(
    sound,
    { groundedS: grounded.value, sdS: grounded.sd },
    { distanceM, sdM },
    { frameS, ...(materialWord === undefined ? {} : { materialWord }) },
  )
  return { sound, bang }
}

function envelopeOf(sound: Sound, ptsS: Float64Array): SoundEnvelope {
  const fromS = ptsS[0]!
  const toS = ptsS[ptsS.length - 1]!
  const buckets = 600
  return {
    startS: fromS,
    rateHz: buckets / Math.max(1e-3, toS - fromS),
    level: soundEnvelope(sound, fromS, toS, buckets).rms,
  }
}

function clipInfo(opened: OpenedClip, slowMotion: SlowMotion, origins: ClipOrigins = {}): ClipInfo {
  const { clip, slowMotionFactor } = opened
  const { video } = clip
  return {
    fileName: clip.fileName,
    sha256: clip.sha256,
    widthPx: video.widthPx,
    heightPx: video.heightPx,
    rotationDeg: video.rotationDeg,
    frameCount: video.fileTimesS.length,
    durationS: video.fileDurationS / slowMotionFactor,
    captureRateHz: video.averageRateHz * slowMotionFactor,
    slowMotionFactor,
    slowMotionEvidence: slowMotion.evidence,
    ...origins,
  }
}
