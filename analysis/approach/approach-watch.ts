import type { SeesawCamera } from '../calibration/seesaw-camera.ts'
import type { CameraMotion } from '../camera/camera-motion.ts'
import { multiply3 } from '../camera/rotation.ts'
import type { Frame } from '../clip/frame.ts'
import { betweenFour, planeFromImage } from '../clip/sampling.ts'
import { isShade, UNKNOWN_CELL } from '../dog/strip.ts'
import { evenlySpread } from '../numeric/evenly-spread.ts'
import type { Scene } from '../scene/learn-scene.ts'
import { colourCode } from '../silhouette/colour-code.ts'
import { learnPlaces, type LearntPlaces } from '../silhouette/surroundings.ts'
import { approachGrids, type ApproachGrids, type PlaneGrid } from './approach-grids.ts'

/** What differs from the empty scene before the plank, in one frame. */
export interface ApproachLook {
  readonly ptsS: number
  /** As in `Look`: tenths of sd, 255 where nothing is known; row by row of the upright grid. */
  readonly upright: Uint8Array
  /** What colour was seen there, as `colourCode`. */
  readonly colours: Uint16Array
  /** The same as `upright` for the ground. */
  readonly ground: Uint8Array
}

/** Deviations are kept in tenths of an sd. */
const TENTHS = 10
const MOST_DEVIATION = 254
/** Up to here over the ground a darkening that keeps the colour is probably a shadow: it counts only so much. */
const SHADE_HEIGHT_M = 0.2
const SHADE_SHARE = 0.3
/** On the ground shadows are all about: there it counts not at all, down to this share of the light. */
const DARKEST_ON_GROUND = 0.3
/** Of the upright plane every so many columns and rows are enough to see that somebody is there, between these heights, m. */
const EVERY = { columns: 4, rows: 5 }
const LEGS_AND_BODY_M = { from: 0.06, to: 0.5 }
/** From here on a cell is strange, in tenths of sd; so many are no noise. */
const STRANGE = 40
const LEAST_STRANGE = 4
/** More looks a second than this tell nothing more; only so many are kept. */
const LOOKS_HZ = 62
const MOST_LOOKS = 400
/** The empty scene is learnt from so many stills of the resting board, spread evenly; from all where there are fewer. */
const AT_REST_RAD = 0.01
const FEWEST_STILLS = 5
const MOST_STILLS = 8

interface Expected extends LearntPlaces {
  readonly grid: PlaneGrid
  /** Image px of the reference frame, NaN where nothing is wanted. */
  readonly xPx: Float64Array
  readonly yPx: Float64Array
}

/** Looks at the ground before the entry end and at what is above it, while somebody is there. */
export class ApproachWatch {
  readonly grids: ApproachGrids
  readonly #camera: SeesawCamera
  readonly #scene: Scene
  #looks: ApproachLook[] = []
  #expected: { readonly upright: Expected; readonly ground: Expected } | null = null

  constructor(camera: SeesawCamera, scene: Scene) {
    this.#camera = camera
    this.#scene = scene
    this.grids = approachGrids(camera)
  }

  /** The looks so far, in order of time. */
  get looks(): readonly ApproachLook[] {
    return this.#looks
  }

  /** Takes the next frame, in which the board rests. */
  add(frame: Frame, motion: CameraMotion): void {
    const looks = this.#looks
    const sinceS = frame.ptsS - (looks[looks.length - 1]?.ptsS ?? -Infinity)
    if (sinceS < 1 / LOOKS_HZ) return
    const { upright, ground } = (this.#expected ??= this.#learn())
    if (!isBusy(frame, motion, upright)) return
    if (looks.length >= MOST_LOOKS) looks.shift()
    const { columns, rows } = upright.grid.places
    const colours = new Uint16Array(columns * rows)
    looks.push({
      ptsS: frame.ptsS,
      upright: deviations(frame, motion, upright, colours),
      colours,
      ground: deviations(frame, motion, ground, null),
    })
  }

  /** Puts the looks on another timeline: `share` of the times so far. */
  shortenTime(share: number): void {
    this.#looks = this.#looks.map((look) => ({ ...look, ptsS: look.ptsS * share }))
  }

  #learn(): { readonly upright: Expected; readonly ground: Expected } {
    const atRest = this.#scene.stills.filter(
      ({ angleRad }) => angleRad !== null && Math.abs(angleRad - this.#camera.restAngleRad) < AT_REST_RAD,
    )
    // The grids keep clear of the resting plank.
    const areClear = atRest.length >= FEWEST_STILLS
    const stills = areClear ? evenlySpread(atRest, MOST_STILLS) : this.#scene.stills
    const expected = (grid: PlaneGrid): Expected => {
      const { columns, rows } = grid.places
      const xPx = new Float64Array(columns * rows).fill(NaN)
      const yPx = xPx.slice()
      for (let row = 0, i = 0; row < rows; row++) {
        for (let column = 0; column < columns; column++, i++) {
          const place = grid.places.placeOf(column, row)
          if (place !== null) [xPx[i], yPx[i]] = place
        }
      }
      const placeOf = (column: number, row: number): readonly [number, number] | null => {
        const i = row * columns + column
        return Number.isNaN(xPx[i]!) ? null : [xPx[i]!, yPx[i]!]
      }
      return { grid, xPx, yPx, ...learnPlaces(this.#camera, stills, { columns, rows, placeOf, areClear }) }
    }
    return { upright: expected(this.grids.upright), ground: expected(this.grids.ground) }
  }
}

/** From image px of the reference frame to column and row of the decoded picture. */
function decodedFromReference(frame: Frame, motion: CameraMotion): Float64Array {
  return multiply3(planeFromImage(frame.view, 1), motion.frameFromReference)
}

function isBusy(frame: Frame, motion: CameraMotion, expected: Expected): boolean {
  const { rowM, aheadM } = expected.grid
  const sees = observer(frame, motion, expected)
  let strange = 0
  for (let row = 0; row < rowM.length; row += EVERY.rows) {
    if (rowM[row]! < LEGS_AND_BODY_M.from || rowM[row]! > LEGS_AND_BODY_M.to) continue
    for (let column = 0; column < aheadM.length; column += EVERY.columns) {
      const tenths = sees(row * aheadM.length + column, 'high', null)
      if (tenths !== UNKNOWN_CELL && tenths > STRANGE && ++strange >= LEAST_STRANGE) return true
    }
  }
  return false
}

function deviations(frame: Frame, motion: CameraMotion, expected: Expected, colours: Uint16Array | null): Uint8Array {
  const { rowM, aheadM } = expected.grid
  const sees = observer(frame, motion, expected)
  const out = new Uint8Array(rowM.length * aheadM.length)
  for (let row = 0, i = 0; row < rowM.length; row++) {
    const where = colours === null ? 'ground' : rowM[row]! < SHADE_HEIGHT_M ? 'low' : 'high'
    for (let column = 0; column < aheadM.length; column++, i++) out[i] = sees(i, where, colours)
  }
  return out
}

/** Where shadows fall, and how often. */
type Where = 'ground' | 'low' | 'high'

/** Tells how far a place differs from what is expected there, in tenths of sd; a colour is noted where it is asked for. */
function observer(
  frame: Frame,
  motion: CameraMotion,
  { xPx, yPx, y: wantY, u: wantU, v: wantV, precisionY, precisionUv }: Expected,
): (i: number, where: Where, colours: Uint16Array | null) => number {
  const [m0, m1, m2, m3, m4, m5, m6, m7, m8] = decodedFromReference(frame, motion) as unknown as Nine
  const { widthPx: w, heightPx: h } = frame.view
  const half = w >> 1
  const brightness = 1 / motion.gain
  return (i, where, colours) => {
    const expectedY = wantY[i]!
    if (Number.isNaN(expectedY)) return UNKNOWN_CELL
    const z = 1 / (m6 * xPx[i]! + m7 * yPx[i]! + m8)
    const x = (m0 * xPx[i]! + m1 * yPx[i]! + m2) * z
    const y = (m3 * xPx[i]! + m4 * yPx[i]! + m5) * z
    if (!(x >= 0 && y >= 0 && x < w - 1 && y < h - 1)) return UNKNOWN_CELL
    const c = Math.floor(x)
    const r = Math.floor(y)
    const seenY = betweenFour(frame.y, w, r * w + c, x - c, y - r) * brightness
    const chroma = ((y + 0.5) >> 1) * half + ((x + 0.5) >> 1)
    const seenU = frame.u[chroma]!
    const seenV = frame.v[chroma]!
    if (colours !== null) colours[i] = colourCode(seenY, seenU, seenV)
    const dy = seenY - expectedY
    const du = seenU - wantU[i]!
    const dv = seenV - wantV[i]!
    const d = Math.sqrt(dy * dy * precisionY[i]! + (du * du + dv * dv) * precisionUv[i]!)
    const darkest = where === 'ground' ? DARKEST_ON_GROUND : undefined
    const isDark = where !== 'high' && isShade(seenY, expectedY, wantU[i]!, wantV[i]!, du, dv, darkest)
    const share = !isDark ? 1 : where === 'ground' ? 0 : SHADE_SHARE
    return Math.min(MOST_DEVIATION, Math.floor(TENTHS * share * d + 0.5))
  }
}

type Nine = readonly [number, number, number, number, number, number, number, number, number]
