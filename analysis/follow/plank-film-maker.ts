import type { BoardTrack } from '../board/board-track.ts'
import { BLUR_PX, BoardFollower, type BoardSight } from '../scene/follow-board.ts'
import { plankOutline, type PlankOutline } from '../scene/plank-outline.ts'
import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { CameraFollower, CameraMotion } from '../camera/camera-motion.ts'
import { damagedSpans, type DamagedSpan } from '../clip/damage.ts'
import type { Frame } from '../clip/frame.ts'
import type { PlankFilm } from '../dog/plank-film.ts'
import { expectedStrip, ExpectedStrips } from '../dog/expected-strip.ts'
import { cutStrip, type Strip } from '../dog/strip.ts'
import { stripGrid, type StripGrid } from '../dog/strip-grid.ts'
import type { DogTrack } from '../dog/dog-track.ts'
import type { DogLikeness } from '../silhouette/dog-likeness.ts'
import type { Look } from '../silhouette/look.ts'
import type { Lookout } from '../silhouette/lookout.ts'
import { approachGrids } from '../approach/approach-grids.ts'
import type { ApproachWatch } from '../approach/approach-watch.ts'
import type { Outline } from '../silhouette/outline.ts'
import { type RestGrid, restGrid, type RestLook, restLook } from './rest-look.ts'
import { ExpectedPicture } from '../scene/expected-picture.ts'
import { swing, type Scene } from '../scene/learn-scene.ts'

/** One frame as followed; the picture itself is not kept. */
export interface FollowedFrame {
  readonly index: number
  readonly ptsS: number
  readonly motion: CameraMotion | null
  readonly sight: BoardSight | null
  readonly isDamaged: boolean
}

/** Less of the plank's edge than this in agreement is no sight of the board. */
const LEAST_AGREED = 0.15
/** Below this share the whole swing is searched again. */
const DOUBTFUL_AGREED = 0.35
/** ... and below this share of what usually agrees. */
const DOUBTFUL_SHARE = 0.65
/** Dogs' feet do not need more strips a second than this. */
const STRIPS_HZ = 125
/** Least independent error of a frame's angle, rad (0.014 deg). */
const LEAST_SD_RAD = 2.5e-4
/** How far above the plank the dog is looked at, m. */
const STRIP_HEIGHT_M = 0.35
/** The strip's cells are no finer than this, m. */
const FINEST_CELL_M = 0.005
/** A strip may come this much of its usual time early: frames do not come evenly. */
const EARLY_SHARE = 0.95
/** A board that turned less than this from frame to frame is lying, rad: then only here and this far on is tried. */
const LYING_RAD = 2e-4
const SETS_OFF_RAD = 0.004
/** A board that turns goes on by this share of its last step. */
const STEP_SHARES = [0.5, 0.85, 1, 1.15, 1.3]
/** Between angles when the whole swing is searched again, rad. */
const SWING_STEP_RAD = 0.01
/** How soon it is learnt what usually agrees. */
const LEARNING_RATE = 0.1

/** The plank counts as resting this near its rest, rad (0.6 deg), and is looked at so often then, s. */
const RESTS_WITHIN_RAD = 0.01
const REST_LOOKS_S = 0.1
const MOST_REST_LOOKS = 600

/** Follows camera and board through a stretch of clip, frame by frame, and keeps the strip along the plank. */
export class PlankFilmMaker {
  readonly #camera: SeesawCamera
  readonly #cameraFollower: CameraFollower
  readonly #boardFollower: BoardFollower
  readonly #grid: StripGrid
  readonly #expected: ExpectedStrips
  #frames: FollowedFrame[] = []
  #strips: { ptsS: number; strip: Strip | null; outline: PlankOutline | null; look: Look | null }[] = []
  readonly #lookout: Lookout | null
  readonly #approachWatch: ApproachWatch | null
  readonly #restGrid: RestGrid
  #restLooks: RestLook[] = []
  #angleRad: number
  #speedRadPerS = 0
  #lastS = NaN
  /** How much of the edges usually agrees, 0-1. */
  #usuallyAgreed = 0

  /**
   * @param startAngleRad where the board probably is in the first frame, rad; @param lookout null: nobody asks for the
   * dog's outline; @param approachWatch null: nor for its approach
   */
  constructor(
    camera: SeesawCamera,
    scene: Scene,
    cameraFollower: CameraFollower,
    startAngleRad: number,
    lookout: Lookout | null = null,
    approachWatch: ApproachWatch | null = null,
  ) {
    this.#approachWatch = approachWatch
    this.#lookout = lookout
    this.#camera = camera
    this.#cameraFollower = cameraFollower
    this.#boardFollower = new BoardFollower(camera, scene.background, scene.appearance, scene.pxM, 0.5 * scene.pxM)
    this.#grid = stripGrid(camera.lengthM, Math.max(FINEST_CELL_M, scene.pxM), STRIP_HEIGHT_M)
    const { background, appearance, pxM } = scene
    const expectedAt = (angleRad: number) =>
      new ExpectedPicture(camera, background, appearance, angleRad, BLUR_PX * pxM)
    this.#expected = new ExpectedStrips(
      (angleRad, spent) => expectedStrip(expectedAt(angleRad), this.#grid, spent),
      LEAST_SD_RAD,
    )
    this.#restGrid = restGrid(camera, pxM)
    this.#angleRad = startAngleRad
  }

  /** Takes the next frame, in display order. */
  add(frame: Frame): FollowedFrame {
    const isDamaged = frame.isDamaged === true
    if (isDamaged) this.#loseBoard()
    const motion = isDamaged ? null : this.#cameraFollower.follow(frame)
    const sight = motion === null ? null : this.#findBoard(frame, motion)
    const followed: FollowedFrame = { index: frame.index, ptsS: frame.ptsS, motion, sight, isDamaged }
    this.#frames.push(followed)
    if (motion !== null && sight !== null && this.#isAtRest(sight)) {
      this.#lookAtRest(frame, motion, sight.angleRad)
      this.#approachWatch?.add(frame, motion)
    }
    const lastStrip = this.#strips[this.#strips.length - 1]
    if (lastStrip === undefined || frame.ptsS - lastStrip.ptsS > EARLY_SHARE / STRIPS_HZ) {
      const strip = motion === null || sight === null ? null : this.#strip(frame, motion, sight)
      const outline = sight === null ? null : plankOutline(this.#camera, sight.angleRad)
      const isSeen = motion !== null && sight !== null && strip !== null && outline !== null
      const seen = isSeen ? { ...sight, motion, outline, strip, grid: this.#grid } : null
      const look = seen === null ? null : (this.#lookout?.look(frame, seen) ?? null)
      this.#strips.push({ ptsS: frame.ptsS, strip, outline, look })
    }
    return followed
  }

  /** Looks at the plank while it rests with the entry end down, for telling whether the base has shifted. */
  get restLooks(): { readonly looks: readonly RestLook[]; readonly grid: RestGrid } {
    return { looks: this.#restLooks, grid: this.#restGrid }
  }

  get frames(): readonly FollowedFrame[] {
    return this.#frames
  }

  /**
   * Puts what was followed on another timeline, as when a clip turns out to be slowed. Nothing that was seen in a frame
   * depends on time; only the strips are as many as the timeline asked for on which they were cut.
   *
   * @param share length of the new timeline / length of the one so far, up to 1
   */
  shortenTime(share: number): void {
    this.#frames = this.#frames.map((frame) => ({ ...frame, ptsS: frame.ptsS * share }))
    this.#strips = this.#strips.map(({ ptsS, strip, outline, look }) => ({
      ptsS: ptsS * share,
      strip: strip === null ? null : { ...strip, ptsS: strip.ptsS * share },
      outline,
      look: look === null ? null : { ...look, ptsS: look.ptsS * share },
    }))
    this.#restLooks = this.#restLooks.map((look) => ({ ...look, ptsS: look.ptsS * share }))
    this.#approachWatch?.shortenTime(share)
    this.#loseBoard()
  }

  /** The strips so far, for the dog. */
  plankFilm(): PlankFilm {
    return {
      ptsS: Float64Array.from(this.#strips, (s) => s.ptsS),
      grid: this.#grid,
      strips: this.#strips.map((s) => s.strip),
      outlines: this.#strips.map((s) => s.outline),
      lengthM: this.#camera.lengthM,
    }
  }

  /** What was seen before the entry end; nothing where nobody asked for it. */
  get approach(): Pick<ApproachWatch, 'looks' | 'grids'> {
    return this.#approachWatch ?? { looks: [], grids: approachGrids(this.#camera) }
  }

  /** What the dog looks like; `dog` has an element a strip. */
  likeness(dog: DogTrack): DogLikeness | null {
    const looks = this.#strips.map((s) => s.look)
    return this.#lookout?.likeness(looks, dog) ?? null
  }

  /** The dog's outlines, one a strip; `dog` has an element a strip. */
  outlines(dog: DogTrack): (Outline | null)[] {
    const looks = this.#strips.map((s) => s.look)
    return this.#lookout?.outlines(looks, dog) ?? looks.map(() => null)
  }

  /** Where frames so far are damaged or missing. */
  damagedS(): DamagedSpan[] {
    const frames = this.#frames
    return damagedSpans(
      Float64Array.from(frames, (f) => f.ptsS),
      Uint8Array.from(frames, (f) => (f.isDamaged ? 1 : 0)),
    )
  }

  /** The board's angle so far. */
  boardTrack(commonSdRad: number, scaleSd: number): BoardTrack {
    const frames = this.#frames
    return {
      ptsS: Float64Array.from(frames, (f) => f.ptsS),
      angleRad: Float64Array.from(frames, (f) => f.sight?.angleRad ?? NaN),
      // Neighbouring frames share what the picture hides: no frame is known better than this.
      sdRad: Float64Array.from(frames, (f) => (f.sight === null ? NaN : Math.hypot(f.sight.sdRad, LEAST_SD_RAD))),
      seen: Uint8Array.from(frames, (f) => (f.sight === null ? 0 : 1)),
      restAngleRad: this.#camera.restAngleRad,
      commonSdRad,
      scaleSd,
      lengthM: this.#camera.lengthM,
      damagedS: this.damagedS(),
    }
  }

  /** The next frame in which the board is seen tells nothing about its speed. */
  #loseBoard(): void {
    this.#speedRadPerS = 0
    this.#lastS = NaN
  }

  #isAtRest({ angleRad }: BoardSight): boolean {
    return Math.abs(angleRad - this.#camera.restAngleRad) < RESTS_WITHIN_RAD
  }

  #lookAtRest(frame: Frame, motion: CameraMotion, angleRad: number): void {
    const looks = this.#restLooks
    const isDue = frame.ptsS - (looks[looks.length - 1]?.ptsS ?? -Infinity) >= EARLY_SHARE * REST_LOOKS_S
    if (!isDue || looks.length >= MOST_REST_LOOKS) return
    looks.push(restLook(frame, motion, this.#camera, angleRad, this.#restGrid))
  }

  #strip(frame: Frame, motion: CameraMotion, { angleRad, shiftM }: BoardSight): Strip {
    return cutStrip(frame, motion, this.#camera, angleRad, this.#expected.near(angleRad), shiftM, this.#grid)
  }

  #findBoard(frame: Frame, motion: CameraMotion): BoardSight | null {
    const here = this.#angleRad
    const sinceS = frame.ptsS - this.#lastS
    const step = Number.isNaN(sinceS) ? 0 : this.#speedRadPerS * sinceS
    const { restAngleRad, groundedAngleRad } = this.#camera
    const candidates =
      Math.abs(step) < LYING_RAD
        ? [here, here + SETS_OFF_RAD]
        : [here, ...STEP_SHARES.map((share) => here + share * step), restAngleRad, groundedAngleRad]
    let sight = this.#boardFollower.find(frame, motion, candidates)
    if (sight === null || sight.agreed < Math.max(DOUBTFUL_AGREED, DOUBTFUL_SHARE * this.#usuallyAgreed)) {
      const again = this.#boardFollower.find(frame, motion, swing(this.#camera, SWING_STEP_RAD))
      if (again !== null && (sight === null || again.agreed > sight.agreed)) sight = again
    }
    if (sight === null || sight.agreed < LEAST_AGREED) {
      this.#loseBoard()
      return null
    }
    this.#speedRadPerS = Number.isNaN(sinceS) ? 0 : (sight.angleRad - here) / sinceS
    this.#lastS = frame.ptsS
    this.#angleRad = sight.angleRad
    this.#usuallyAgreed += LEARNING_RATE * (sight.agreed - this.#usuallyAgreed)
    return sight
  }
}
